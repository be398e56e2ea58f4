package rule_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
)

// work is what checking and counting a sheet takes: how often memory is asked for, and for how many bytes. Unlike time it is the same on
// every machine and whatever else runs there.
func work(t testing.TB, s *sheet.Sheet) (asked, bytes float64) {
	t.Helper()
	table := tableOf(t, s)
	do := func() {
		rule.Check(s, table)
		tally.Count(s, table)
	}
	do() // what the table keeps
	asked = testing.AllocsPerRun(5, do)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for range 5 {
		do()
	}
	runtime.ReadMemStats(&after)
	return asked, float64(after.TotalAlloc-before.TotalAlloc) / 5
}

// Checking and counting take work by the number of bonds: twice the bonds take at most about twice as much, where nearly every bond is
// reported and where hardly one is.
func TestWorkGrowsWithTheBonds(t *testing.T) {
	const slack = 1.35 // rows begun, and slices that grow by doubling
	for _, c := range []struct {
		name string
		of   func(n int) *sheet.Sheet
	}{{"busy", func(n int) *sheet.Sheet { return crowd(t, n) }}, {"calm", func(n int) *sheet.Sheet { return calm(crowd(t, n)) }}} {
		asked, bytes := map[int]float64{}, map[int]float64{}
		counts := []int{50, 100, 200, 400}
		for _, n := range counts {
			asked[n], bytes[n] = work(t, c.of(n))
		}
		t.Logf("%s: %v times, %v bytes", c.name, asked, bytes)
		for i, n := range counts[1:] {
			half := counts[i]
			if asked[n] > 2*slack*asked[half]+50 {
				t.Errorf("%s: %d bonds ask for memory %.0f times, and %d bonds %.0f times", c.name, n, asked[n], half, asked[half])
			}
			if bytes[n] > 2*slack*bytes[half]+8192 {
				t.Errorf("%s: %d bonds take %.0f bytes, and %d bonds %.0f", c.name, n, bytes[n], half, bytes[half])
			}
		}
	}
}

// TestOnce checks and counts a crowd of some bonds so many times: TestStatementsGrowWithTheBonds has it counted how many statements that takes.
func TestOnce(t *testing.T) {
	bonds, err1 := strconv.Atoi(os.Getenv("BONDS"))
	rounds, err2 := strconv.Atoi(os.Getenv("ROUNDS"))
	if err1 != nil || err2 != nil {
		t.Skip("it is run by another test")
	}
	s := crowd(t, bonds)
	table := tableOf(t, s)
	rule.Check(s, table)
	for range rounds {
		rule.Check(s, table)
		tally.Count(s, table)
	}
}

// statements is how many statements of ours one round of checking and counting executes, by the counters of the coverage tool: a loop over all
// pairs of bonds shows in them, though it asks for no memory.
func statements(t *testing.T, bonds int) float64 {
	t.Helper()
	executed := func(rounds int) float64 {
		profile := filepath.Join(t.TempDir(), "profile")
		run := exec.Command("go", "test", "-run", "^TestOnce$", "-count=1", "-covermode=count", "-coverprofile", profile,
			"-coverpkg=example.org/underveil/internal/rule,example.org/underveil/internal/tally,example.org/underveil/internal/slots,example.org/underveil/internal/sheet", ".")
		run.Env = append(os.Environ(), "BONDS="+strconv.Itoa(bonds), "ROUNDS="+strconv.Itoa(rounds))
		if out, err := run.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		data, err := os.ReadFile(profile)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for line := range strings.Lines(string(data)) {
			if f := strings.Fields(line); len(f) == 3 {
				many, err1 := strconv.ParseFloat(f[1], 64)
				times, err2 := strconv.ParseFloat(f[2], 64)
				if err1 == nil && err2 == nil {
					sum += many * times
				}
			}
		}
		return sum
	}
	const rounds = 4
	return (executed(rounds) - executed(0)) / rounds
}

// Statements are counted as well, up to the most bonds that heads have.
func TestStatementsGrowWithTheBonds(t *testing.T) {
	if testing.Short() {
		t.Skip("it compiles the packages anew")
	}
	const slack = 1.5 // findings are sorted, and a full head has more neighbours
	counts := []int{50, 100, 200, 400}
	executed := map[int]float64{}
	for i, n := range counts {
		executed[n] = statements(t, n)
		if i > 0 && executed[n] > 2*slack*executed[counts[i-1]] {
			t.Errorf("%d bonds take %.0f statements, and %d bonds %.0f", n, executed[n], counts[i-1], executed[counts[i-1]])
		}
	}
	t.Logf("%v statements", executed)
	if executed[50] < 5000 {
		t.Errorf("50 bonds take %.0f statements, so not all is counted", executed[50])
	}
}

// BenchmarkCheckAndCount is the time of the same.
func BenchmarkCheckAndCount(b *testing.B) {
	for _, n := range []int{50, 100, 200, 400} {
		s := crowd(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			table := tableOf(b, s)
			rule.Check(s, table)
			b.ReportAllocs()
			for b.Loop() {
				rule.Check(s, table)
				tally.Count(s, table)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/bond")
		})
	}
}
