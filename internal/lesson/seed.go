package lesson

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Seeded is a sheet with faults in it.
type Seeded struct {
	Sheet  *sheet.Sheet
	Faults []sheet.Concern // each on a slot, in the order of the map
}

// MostFaults is how many faults Seed puts into a sheet at most: with more, whoever marks everything is right too often.
const MostFaults = 12

// Seed puts some mistakes into a sheet that has none. Each is a stop or a caution that a rule reports about one slot, missing its
// limit by a clear margin, with nothing else to say about that slot; besides them the rules find on the seeded sheet exactly what they
// find on the given one, by its own limits and on its own day. The same sheet, count and seed give the same faults.
//
// Its errors say what to do: the count is not 1 to MostFaults, the sheet does not fit its head or has something to mend already, or there
// is no room on it for so many faults.
func Seed(s *sheet.Sheet, count int, seed uint64) (Seeded, error) {
	if count < 1 || count > MostFaults {
		return Seeded{}, fmt.Errorf("%s asked for: a fault sheet has 1 to %d", printable.Count(count, "fault"), MostFaults)
	}
	if len(s.Shades) == 0 {
		return Seeded{}, errors.New("the sheet has no shade to place a bond of: add one first")
	}
	table, err := slots.For(s, nil)
	if err != nil {
		return Seeded{}, err
	}
	return seedOn(s, table, count, seed)
}

// seedOn is Seed with the table of the sheet, for only rows will change.
func seedOn(s *sheet.Sheet, table *slots.Table, count int, seed uint64) (Seeded, error) {
	rule.Prepare(s, table)
	rep := rule.Check(s, table)
	if rep.Stops+rep.Cautions > 0 {
		f := rep.Findings[0] // the gravest
		return Seeded{}, fmt.Errorf("mend it first: a fault sheet begins with a sheet that has nothing wrong: %s: %s", f.Where(), printable.Line(f.Message()))
	}
	rng := rand.New(rand.NewPCG(seed, seedStream))
	w := newSowing(s, table, rep)
	w.sow(slipsOf(s, table, rng), count, rng)
	if n := len(w.faults); n < count {
		return Seeded{}, noRoom(n, count)
	}
	return w.seeded(), nil
}

// seedStream keeps the random numbers of Seed apart from those that others draw with the same seed.
const seedStream = 20260302

func noRoom(found, asked int) error {
	if found == 0 {
		return errors.New("there is no room on this sheet for a fault that has one answer only: begin with another sheet")
	}
	return fmt.Errorf("with this seed there is room for %s, not for %d: ask for fewer, take another seed, or begin with another sheet",
		printable.Count(found, "fault"), asked)
}

// sowing is a sheet into which faults are being put.
type sowing struct {
	table *slots.Table
	given map[sheet.Concern]rule.Severity // found on the sheet as it was given
	harsh map[sheet.Concern]bool          // and what would be found with harsher limits

	sheet  *sheet.Sheet
	faults []rule.Finding
	by     map[string]int // how many each rule has reported
}

func newSowing(s *sheet.Sheet, table *slots.Table, rep *rule.Report) *sowing {
	w := &sowing{table: table, given: map[sheet.Concern]rule.Severity{}, harsh: map[sheet.Concern]bool{}, sheet: s, by: map[string]int{}}
	for _, f := range rep.Findings {
		w.given[f.Concern] = f.Severity
	}
	for _, f := range rule.Check(harsher(s), table).Findings {
		w.harsh[f.Concern] = true
	}
	return w
}

// sow makes slips until there are enough faults. They are tried some at a time, so that there is a choice of rules and
// yet little work where the first will do.
func (w *sowing) sow(slips []slip, count int, rng *rand.Rand) {
	for some := range slices.Chunk(slips, triedFirst+triedEach*count) {
		kinds := w.sorted(some)
		rng.Shuffle(len(kinds), func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
		for len(w.faults) < count {
			k := w.rarest(kinds)
			if k == nil {
				break
			}
			made := k.slips[0].make(w.sheet)
			k.slips = k.slips[1:]
			if faults, ok := w.judge(made); ok { // it may no longer do beside the others
				w.by[newRule(w.faults, faults)]++
				w.sheet, w.faults = made, faults
			}
		}
	}
}

// How many slips are tried before any is chosen, and how many more for each fault. Fewer would find the common rules only.
const (
	triedFirst = 40
	triedEach  = 20
)

// oneRule is slips that one rule reports.
type oneRule struct {
	rule  string
	slips []slip
}

// sorted are the slips that will do on the sheet as it is, by the rule that reports them.
func (w *sowing) sorted(slips []slip) []oneRule {
	all := w.sheet
	for _, p := range slips {
		all = p.make(all)
	}
	rule.Prepare(all, w.table)
	var kinds []oneRule
	for _, p := range slips {
		if w.hopeless(p) {
			continue
		}
		faults, ok := w.judge(p.make(w.sheet))
		if !ok {
			continue
		}
		id := newRule(w.faults, faults)
		i := slices.IndexFunc(kinds, func(k oneRule) bool { return k.rule == id })
		if i < 0 {
			i, kinds = len(kinds), append(kinds, oneRule{rule: id})
		}
		kinds[i].slips = append(kinds[i].slips, p)
	}
	return kinds
}

// rarest is the first of the kinds with slips left whose rule has reported fewest faults so far, or nil.
func (w *sowing) rarest(kinds []oneRule) *oneRule {
	var best *oneRule
	for i := range kinds {
		if k := &kinds[i]; len(k.slips) > 0 && (best == nil || w.by[k.rule] < w.by[best.rule]) {
			best = k
		}
	}
	return best
}

// newRule is the rule of the one fault that there is now and was not before.
func newRule(before, now []rule.Finding) string {
	for _, f := range now {
		if !slices.ContainsFunc(before, func(b rule.Finding) bool { return b.Concern == f.Concern }) {
			return f.Rule
		}
	}
	return ""
}

// seeded is the sheet as it is now, with its faults.
func (w *sowing) seeded() Seeded {
	made := Seeded{Sheet: w.sheet}
	for _, f := range w.faults {
		made.Faults = append(made.Faults, f.Concern)
	}
	slices.SortFunc(made.Faults, func(a, b sheet.Concern) int { return spotOf(a).Compare(spotOf(b)) })
	return made
}

// spotOf is the slot of a concern that is on one.
func spotOf(c sheet.Concern) sheet.Spot { return sheet.Spot{At: c.Row, Slot: c.Slot} }
