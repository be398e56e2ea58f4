package rule_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

// fixtures is where the sheets of the rules are.
var fixtures = filepath.Join("..", "..", "testdata", "rules")

// seeded is a source of random numbers that repeats from run to run.
func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240229)) }

func level(height scalp.MM) sheet.Place { return sheet.Place{At: height} }
func along(right scalp.MM) sheet.Place  { return sheet.Place{Along: true, At: right} }

// tables are the slot tables made so far, by what they depend on: many sheets have the same head.
var tables sync.Map

// tableOf is the slot table of a sheet that has to have one.
func tableOf(t testing.TB, s *sheet.Sheet) *slots.Table {
	t.Helper()
	depth, _ := s.Limit(sheet.LimitFringeDepth)
	ground := fmt.Sprint(s.Measures, s.Moved, s.HoleSpacing, s.LineGap, depth, s.Partings, s.KeepOff)
	hair := ground + fmt.Sprint(s.Hair.Length, s.Turns)
	for _, name := range []sheet.LimitName{sheet.LimitReach, sheet.FigureStandOff, sheet.FigureGrowth, sheet.FigureWhorl} {
		figure, _ := s.Limit(name)
		hair += fmt.Sprint(" ", figure)
	}
	have, ok := tables.Load(hair)
	if !ok { // or one of the same head and other hair, which saves the most work
		have, _ = tables.Load(ground)
	}
	kept, _ := have.(*slots.Table)
	table, err := slots.For(s, kept)
	if err != nil {
		t.Fatalf("%+v: %v", s.Measures, err)
	}
	tables.Store(ground, table)
	tables.Store(hair, table)
	return table
}

// check is what the rules find on a sheet.
func check(t testing.TB, s *sheet.Sheet) *rule.Report {
	t.Helper()
	return rule.Check(s, tableOf(t, s))
}

// lineOf is a line that the sheet's head has to have.
func lineOf(t testing.TB, s *sheet.Sheet, at sheet.Place) *slots.Line {
	t.Helper()
	l, err := tableOf(t, s).Line(at)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// opened are the sheets read so far, by their path: a sheet never changes.
var opened sync.Map

// open reads a sheet that has to be right in every word.
func open(t testing.TB, path string) *sheet.Sheet {
	t.Helper()
	if s, ok := opened.Load(path); ok {
		return s.(*sheet.Sheet)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, notices, err := sheetfile.Decode(filepath.Base(path), data)
	if err != nil {
		t.Fatal(err)
	}
	if slices.ContainsFunc(notices, func(n sheetfile.Notice) bool { return n.Text != sheetfile.RemarksLost }) {
		t.Fatalf("%s: %v", path, notices)
	}
	s = asked(s)
	if _, today, ok := strings.Cut(string(data), "# today: "); ok {
		s = s.With(func(c *sheet.Sheet) { c.Today = today[:len(time.DateOnly)] })
	}
	opened.Store(path, s)
	return s
}

// asked is the sheet of a client who was asked about scalp and skin, unless the sheet says what was asked: nearly all of
// them are about something else.
func asked(s *sheet.Sheet) *sheet.Sheet {
	if !s.Asked.Equal(sheet.Consultation{}) {
		return s
	}
	return s.With(func(c *sheet.Sheet) {
		for _, q := range sheet.Questions {
			c.Asked = c.Asked.With(q.ID, sheet.No)
		}
		c.Asked.PatchTest, c.Asked.Agreed = "2020-02-20", "2020-02-20"
	})
}

// medium is an empty sheet for the default head of a woman.
func medium() *sheet.Sheet { return asked(sheet.New(scalp.Sizes[1].Measures)) }

// laid is the sheet with a row of whole bonds in some slots.
func laid(s *sheet.Sheet, at sheet.Place, slots ...int) *sheet.Sheet {
	bonds := map[int]sheet.Bond{}
	for _, slot := range slots {
		bonds[slot] = sheet.Bond{Shade: 'a'}
	}
	return s.WithBonds(at, bonds)
}

// of are the findings of one rule.
func of(rep *rule.Report, id string) []rule.Finding {
	var found []rule.Finding
	for _, f := range rep.Findings {
		if f.Rule == id {
			found = append(found, f)
		}
	}
	return found
}

// listed is every finding of a report, a line each, to look at when a test fails.
func listed(rep *rule.Report) string {
	if len(rep.Findings) == 0 {
		return "  nothing\n"
	}
	text := ""
	for _, f := range rep.Findings {
		text += "  " + told(f) + "\n"
	}
	return text
}

// told is a finding in one line.
func told(f rule.Finding) string {
	severity := f.Severity.String()
	if f.Accepted != nil {
		severity += " accepted"
	}
	return fmt.Sprintf("%s %s, %s: %s (%s)", f.Rule, severity, f.Where(), f.Message(), f.Source)
}
