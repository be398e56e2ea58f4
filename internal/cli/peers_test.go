//go:build unix

package cli

import (
	"cmp"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/ptytest"
)

var peers = flag.Bool("peers", false, "measure the program beside two text editors of the terminal, which takes about two minutes")

const (
	peerStarts = 20
	peerKeys   = 60 // of each kind, beside a few to warm up
	peerWarmUp = 4
	peerCells  = 20                    // that are not blank make a first frame
	peerQuiet  = 30 * time.Millisecond // without a byte: the answer is over
	peerPause  = 50 * time.Millisecond // between keys, at most; random, so that nothing falls into step
	peerIdle   = 5 * time.Second
)

// peer is a program that is measured, and what was measured.
type peer struct {
	name   string
	argv   []string // the file to open goes behind it
	typing []string // keys that lead to where change can be pressed
	change []string // keys that change something, and take it back

	starts        []time.Duration // to the first frame
	moves, edits  strokes
	memory        int64
	idle          time.Duration // of the processor
	usageNotKnown error
}

// strokes is what keys of one kind came to.
type strokes struct {
	last  []time.Duration // from the key to the last byte
	bytes []int
	cpu   time.Duration // for one key, in the mean
}

// TestPeers measures, all in one run and taking turns, so that whatever else the machine does meets all alike. It asserts
// no time. It wants vim and nano, as `apt-get install vim nano` brings them; they run without anybody's settings.
//
//	go test ./internal/cli -run Peers -peers -v            prints the table
//	go test ./internal/cli -run Peers -peers -update       writes it to DEVELOPERS.md, on a quiet machine
func TestPeers(t *testing.T) {
	if !*peers {
		t.Skip("-peers is not given")
	}
	list := []*peer{
		{name: "underveil", argv: []string{theProgram(t)}, change: []string{"Space", "Space"}},
		{name: versionOf(t, "vim"), argv: []string{"vim", "-u", "DEFAULTS", "-i", "NONE", "-n"}, typing: []string{"i"}, change: []string{"x", "Backspace"}},
		{name: versionOf(t, "nano"), argv: []string{"nano", "-I"}, change: []string{"x", "Backspace"}},
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range peerStarts {
		for _, p := range list {
			m := p.start(t)
			p.starts = append(p.starts, m.FirstFrame(peerCells, peerQuiet).Last)
			m.Stop()
		}
	}
	measureKeys(t, rng, list)
	table := peerTable(list)
	t.Log("\n" + table)
	if *update {
		notStale(t, "DEVELOPERS.md", map[string]string{"peers": table})
	}
}

// start opens a copy of the demo sheet of its own in a program.
func (p *peer) start(t *testing.T) *ptytest.Meter {
	t.Helper()
	demo, err := os.ReadFile("../../assets/sheets/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "demo.toml")
	if err := os.WriteFile(path, demo, 0o644); err != nil {
		t.Fatal(err)
	}
	return ptytest.StartMeter(t, ptytest.Options{Cols: 120, Rows: 40, Dir: filepath.Dir(path)}, append(slices.Clone(p.argv), path)...)
}

// measureKeys presses keys in all programs, in one after the other, and then leaves them alone for a while.
func measureKeys(t *testing.T, rng *rand.Rand, list []*peer) {
	t.Helper()
	open := make([]*ptytest.Meter, len(list))
	for i, p := range list {
		open[i] = p.start(t)
		open[i].FirstFrame(peerCells, 10*peerQuiet)
	}
	turns(rng, list, open, func(*peer) []string { return []string{"Down", "Up", "Right", "Left"} }, func(p *peer) *strokes { return &p.moves })
	for i, p := range list {
		for _, key := range p.typing {
			open[i].Press(key, 10*peerQuiet)
		}
	}
	turns(rng, list, open, func(p *peer) []string { return p.change }, func(p *peer) *strokes { return &p.edits })
	for i, p := range list {
		memory, err := open[i].Memory()
		p.memory, p.usageNotKnown = memory, cmp.Or(p.usageNotKnown, err)
		p.idle = -p.running(open[i])
	}
	time.Sleep(peerIdle)
	for i, p := range list {
		p.idle += p.running(open[i])
		open[i].Stop()
	}
}

// turns presses a key of each program after the other, with a pause of its own before each.
func turns(rng *rand.Rand, list []*peer, open []*ptytest.Meter, keys func(*peer) []string, into func(*peer) *strokes) {
	for n := range peerWarmUp + peerKeys {
		for i, p := range list {
			time.Sleep(time.Duration(rng.Int64N(int64(peerPause))))
			before := p.running(open[i])
			reply := open[i].Press(keys(p)[n%len(keys(p))], peerQuiet)
			if n < peerWarmUp {
				continue
			}
			s := into(p)
			s.cpu += (p.running(open[i]) - before) / peerKeys
			s.bytes = append(s.bytes, reply.Bytes)
			if reply.Bytes > 0 {
				s.last = append(s.last, reply.Last)
			}
		}
	}
}

// running is how long a program has used the processor.
func (p *peer) running(m *ptytest.Meter) time.Duration {
	d, err := m.CPU()
	p.usageNotKnown = cmp.Or(p.usageNotKnown, err)
	return d
}

// peerTable is the table for DEVELOPERS.md.
func peerTable(list []*peer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "On %s, %d cores, %s, %s, on %s: %d starts and %d keys of each kind, the programs taking turns, on a pseudo-terminal of\n"+
		"120 by 40 with the demo sheet. Median, and p90 behind it. A move is an arrow key; a change is a bond placed or lifted here, and a\n"+
		"letter typed or taken back there. The frame ends with the last byte before %d ms of silence.\n\n",
		processor(), runtime.NumCPU(), runtime.GOOS, runtime.Version(), time.Now().Format(time.DateOnly), peerStarts, peerKeys, peerQuiet.Milliseconds())
	row := func(what string, value func(*peer) string) {
		fmt.Fprintf(&b, "| %s |", what)
		for _, p := range list {
			fmt.Fprintf(&b, " %s |", value(p))
		}
		b.WriteByte('\n')
	}
	row("", func(p *peer) string { return p.name })
	fmt.Fprintf(&b, "|---|%s\n", strings.Repeat("---|", len(list)))
	row("first frame, from exec to last byte, ms", func(p *peer) string { return spread(p.starts, "%.0f") })
	row("move, key to last byte, ms", func(p *peer) string { return spread(p.moves.last, "%.2f") })
	row("change, key to last byte, ms", func(p *peer) string { return spread(p.edits.last, "%.2f") })
	row("bytes for a move", func(p *peer) string { return spread(p.moves.bytes, "%d") })
	row("bytes for a change", func(p *peer) string { return spread(p.edits.bytes, "%d") })
	row("processor for a move, for a change, ms (mean)", func(p *peer) string {
		return p.used(fmt.Sprintf("%.2f, %.2f", inMs(p.moves.cpu), inMs(p.edits.cpu)))
	})
	row("processor in 5 s at rest, ms", func(p *peer) string { return p.used(fmt.Sprintf("%.1f", inMs(p.idle))) })
	row("resident memory after that, MiB", func(p *peer) string { return p.used(fmt.Sprintf("%.1f", float64(p.memory)/(1<<20))) })
	return b.String()
}

// used is a figure of what was used, where the system tells it.
func (p *peer) used(figure string) string {
	if p.usageNotKnown != nil {
		return "not known here"
	}
	return figure
}

// spread is the median of values and the value that nine in ten are at most.
func spread[T int | time.Duration](values []T, format string) string {
	if len(values) == 0 {
		return "nothing came"
	}
	sorted := slices.Sorted(slices.Values(values))
	write := func(v T) string {
		if d, ok := any(v).(time.Duration); ok {
			return fmt.Sprintf(format, inMs(d))
		}
		return fmt.Sprintf(format, v)
	}
	n := len(sorted)
	return write((sorted[(n-1)/2]+sorted[n/2])/2) + "; " + write(sorted[n*9/10])
}

func inMs(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// versionOf is the name of an editor with its version, or ends the test where there is no such editor.
func versionOf(t *testing.T, name string) string {
	t.Helper()
	out, err := exec.Command(name, "--version").Output()
	if err != nil {
		t.Fatalf("%s, which is measured beside the program, does not run: %v. Install it, on Debian with apt-get install %s.", name, err, name)
	}
	return name + " " + regexp.MustCompile(`[0-9]+(\.[0-9]+)+`).FindString(string(out))
}

// processor is what the system calls its processor.
func processor() string {
	info, _ := os.ReadFile("/proc/cpuinfo") // not there on other systems
	if found := regexp.MustCompile(`(?m)^model name\s*:\s*(.+)$`).FindSubmatch(info); found != nil {
		return string(found[1])
	}
	return runtime.GOARCH
}
