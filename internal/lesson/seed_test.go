package lesson_test

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"sync"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

// Over a thousand sheets every fault is reported by its rule in its slot, plainly and by no other rule, and
// besides the faults the rules find what they found before.
func TestSeed(t *testing.T) {
	sheets, rulesAtLeast, mostAtLeast := 1000, 12, 5
	if testing.Short() {
		sheets, rulesAtLeast, mostAtLeast = 20, 6, 3
	}
	bases := seedBases(t)
	var mu sync.Mutex
	rules, most := map[string]int{}, 0
	next := make(chan int)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for i := range next {
				b, count := bases[i%len(bases)], 1+i%5
				made, err := lesson.SeedOn(b.sheet, b.lent, count, uint64(i))
				if err != nil {
					t.Errorf("%s, %d faults, seed %d: %v", b.name, count, i, err)
					continue
				}
				for _, problem := range wrongWith(b, made, count) {
					t.Errorf("%s, %d faults, seed %d: %s", b.name, count, i, problem)
				}
				if i%20 == 0 {
					kept(t, made)
					if again, err := lesson.Seed(b.sheet, count, uint64(i)); err != nil || !reflect.DeepEqual(made, again) {
						t.Errorf("%s, %d faults, seed %d: with a table of its own otherwise: %v", b.name, count, i, err)
					}
				}
				mu.Lock()
				here := map[string]bool{}
				for _, f := range made.Faults {
					rules[f.Rule]++
					here[f.Rule] = true
				}
				most = max(most, len(here))
				mu.Unlock()
			}
		})
	}
	for i := range sheets {
		next <- i
	}
	close(next)
	wg.Wait()
	for _, id := range slices.Sorted(maps.Keys(rules)) {
		t.Logf("%-12s %d", id, rules[id])
	}
	if len(rules) < rulesAtLeast {
		t.Errorf("only %d rules have reported anything, not %d", len(rules), rulesAtLeast)
	}
	if most < mostAtLeast {
		t.Errorf("no sheet has faults of more than %d rules", most)
	}
}

// wrongWith is what is wrong with a seeded sheet, looked at with the base's own table.
func wrongWith(b seedBase, made lesson.Seeded, count int) (problems []string) {
	wrong := func(format string, args ...any) { problems = append(problems, fmt.Sprintf(format, args...)) }
	if unchanged := made.Sheet.With(func(c *sheet.Sheet) { c.Rows = b.sheet.Rows }); !reflect.DeepEqual(unchanged, b.sheet) {
		wrong("more than the rows has changed")
	}
	if len(made.Faults) != count {
		wrong("%d faults", len(made.Faults))
	}
	before, after := findings(b.sheet, b.table), findings(made.Sheet, b.table)
	for c, f := range before {
		if now, there := after[c]; !there || now.Severity != f.Severity {
			wrong("what was found at %s by %s is gone or otherwise", f.Where(), f.Rule)
		}
	}
	for c, f := range after {
		if _, had := before[c]; !had && !slices.Contains(made.Faults, c) {
			wrong("found besides: %s at %s: %s", f.Rule, f.Where(), f.Message())
		}
	}
	for i, c := range made.Faults {
		f, there := after[c]
		if !there {
			wrong("not found: %s at %s", c.Rule, rule.Where(c))
			continue
		}
		if _, had := before[c]; had || f.Severity == rule.Note || f.Accepted != nil || c.On != sheet.OnSlot {
			wrong("no fault: %s at %s: %s", f.Rule, f.Where(), f.Message())
		}
		if !made.Sheet.Bond(c.Row, c.Slot).Placed() {
			wrong("no bond at %s", f.Where())
		}
		if off := math.Abs(f.Value - f.Limit); f.Unit == "mm" && off < 0.95 || f.Unit != "mm" && off < 0.05*f.Limit-0.05 {
			wrong("a near thing: %s: %s", f.Where(), f.Message())
		}
		for _, problem := range answers(f, after) {
			wrong("%s at %s: %s", f.Rule, f.Where(), problem)
		}
		for _, other := range made.Faults[:i] {
			if d := distance(b.table, c, other); d < 20 {
				wrong("%s and %s are %.1f mm apart", f.Where(), rule.Where(other), d)
			}
		}
	}
	for _, problem := range nearly(b, made) {
		wrong("%s", problem)
	}
	return problems
}

// findings is what the rules find on a sheet, by what it is about.
func findings(s *sheet.Sheet, t *slots.Table) map[sheet.Concern]rule.Finding {
	found := map[sheet.Concern]rule.Finding{}
	for _, f := range rule.Check(s, t).Findings {
		found[f.Concern] = f
	}
	return found
}

// answers says what else could be answered for a fault.
func answers(fault rule.Finding, all map[sheet.Concern]rule.Finding) (problems []string) {
	for c, f := range all {
		if c == fault.Concern {
			continue
		}
		if c.Row == fault.Row && (c.On == sheet.OnRow || c.On == sheet.OnSlot && c.Slot == fault.Slot) {
			problems = append(problems, f.Rule+" speaks of it too")
		}
		for _, near := range f.Near {
			if near.Row == fault.Row && near.Slot == fault.Slot {
				problems = append(problems, f.Rule+" points at it from "+f.Where())
			}
		}
		for _, near := range fault.Near {
			if c.On == sheet.OnSlot && c.Row == near.Row && c.Slot == near.Slot && f.Severity > rule.Note {
				problems = append(problems, "it points at "+f.Where()+", where "+f.Rule+" reports something")
			}
		}
	}
	return problems
}

// distance is how far apart two concerns are on the scalp, in mm.
func distance(t *slots.Table, a, b sheet.Concern) float64 {
	one, _ := t.Line(a.Row)
	other, _ := t.Line(b.Row)
	return float64(t.Head.Distance(one.At(a.Slot).Point, other.At(b.Slot).Point))
}

// nearly says where another rule all but reports the slot of a fault: where it does once its limit is a little harder to keep.
func nearly(b seedBase, made lesson.Seeded) (problems []string) {
	for name, by := range map[sheet.LimitName]float64{
		sheet.LimitNape: 0.9, sheet.LimitNapeUp: 0.9, sheet.LimitEar: 0.9, sheet.LimitTemple: 0.9, sheet.LimitFace: 0.9, sheet.LimitFringe: 0.9,
		sheet.LimitPart: 0.9, sheet.LimitBondGap: 0.9, sheet.LimitVeil: 0.9, sheet.LimitVeilUp: 0.9, sheet.LimitAside: -0.9, sheet.LimitLoad: -7,
	} {
		v, _ := made.Sheet.Limit(name)
		for c, f := range findings(made.Sheet.WithLimit(name, v+by), b.table) {
			for _, fault := range made.Faults {
				if c != fault && c.On == sheet.OnSlot && c.Row == fault.Row && c.Slot == fault.Slot && f.Severity > rule.Note {
					problems = append(problems, fmt.Sprintf("%s at %s is nearly one of %s: %s", fault.Rule, f.Where(), f.Rule, f.Message()))
				}
			}
		}
	}
	return problems
}

// kept checks that a seeded sheet that is written to a file and read again has the same faults, on a table of its own.
func kept(t *testing.T, made lesson.Seeded) {
	read, _, err := sheetfile.Decode("seeded", sheetfile.Encode(made.Sheet))
	if err != nil {
		t.Error(err)
		return
	}
	read = read.With(func(c *sheet.Sheet) { c.House, c.Today = made.Sheet.House, made.Sheet.Today })
	table, err := slots.For(read, nil)
	if err != nil {
		t.Error(err)
		return
	}
	found := findings(read, table)
	for _, c := range made.Faults {
		if f, there := found[c]; !there || f.Severity < rule.Caution {
			t.Errorf("from a file: no %s at %s", c.Rule, rule.Where(c))
		}
	}
}

// The same sheet, count and seed give the same faults, whoever asks and however often; another seed gives others.
func TestSeedRepeats(t *testing.T) {
	encoded := func(s *sheet.Sheet, seed uint64) []byte {
		made, err := lesson.Seed(s, 5, seed)
		if err != nil {
			t.Error(err)
			return nil
		}
		return fmt.Appendf(sheetfile.Encode(made.Sheet), "%v", made.Faults)
	}
	first := encoded(cleanSheet(t), 1)
	var wg sync.WaitGroup
	for range 6 {
		wg.Go(func() {
			if again := encoded(cleanSheet(t), 1); !bytes.Equal(first, again) {
				t.Errorf("first\n%s\nand again\n%s", first, again)
			}
		})
	}
	wg.Wait()
	others := map[string]bool{}
	for seed := range uint64(10) {
		others[string(encoded(cleanSheet(t), seed))] = true
	}
	if len(others) < 9 {
		t.Errorf("ten seeds give only %d sheets", len(others))
	}
}

// The faults are in the order of the map, and the given sheet is as it was.
func TestSeedLeavesTheSheet(t *testing.T) {
	s := cleanSheet(t)
	before := sheetfile.Encode(s)
	made, err := lesson.Seed(s, 8, 3)
	if err != nil {
		t.Fatal(err)
	}
	if after := sheetfile.Encode(s); !bytes.Equal(before, after) {
		t.Errorf("the sheet was changed:\n%s", after)
	}
	if !slices.IsSortedFunc(made.Faults, func(a, b sheet.Concern) int {
		return sheet.Spot{At: a.Row, Slot: a.Slot}.Compare(sheet.Spot{At: b.Row, Slot: b.Slot})
	}) {
		t.Errorf("not in the order of the map: %v", made.Faults)
	}
}

// BenchmarkSeed puts five faults into the clean sheet, its slot table included.
func BenchmarkSeed(b *testing.B) {
	s := cleanSheet(b)
	for seed := uint64(0); b.Loop(); seed++ {
		if _, err := lesson.Seed(s, 5, seed); err != nil {
			b.Fatal(err)
		}
	}
}
