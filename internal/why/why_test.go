package why_test

import (
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/why"
)

// sheets are all the sheets of the rules' tests and those that come with the program.
func sheets(t *testing.T) map[string]*sheet.Sheet {
	t.Helper()
	found := map[string]*sheet.Sheet{}
	for _, root := range []string{"../../testdata/rules", "../../assets/sheets"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".toml" {
				return err
			}
			s, _, err := sheetfile.Load(path)
			if err == nil {
				found[path] = s.With(func(c *sheet.Sheet) { c.Today = "2026-05-11" })
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(found) < 100 {
		t.Fatalf("only %d sheets", len(found))
	}
	return found
}

// tables are slot tables by head: most of the sheets share one.
var tables = map[string]*slots.Table{}

func tableOf(t *testing.T, s *sheet.Sheet) *slots.Table {
	t.Helper()
	key := fmt.Sprint(s.Measures, s.Moved, s.HoleSpacing, s.LineGap, s.Partings, s.KeepOff)
	table, err := slots.For(s, tables[key])
	if err != nil {
		t.Fatal(err)
	}
	tables[key] = table
	return table
}

// TestArithmeticComesOut does every sum that the derivations print again, from the printed figures alone: it has to
// come out to the last digit printed.
func TestArithmeticComesOut(t *testing.T) {
	done := map[string]int{}
	for path, s := range sheets(t) {
		table := tableOf(t, s)
		rep := rule.Check(s, table)
		all := why.Sheet(s, table, rep)
		for _, r := range s.Rows {
			line, err := table.Line(r.Place)
			if err != nil || line.At(r.First()) == nil {
				continue
			}
			sections, err := why.Slot(s, table, rep, r.Place, r.First())
			if err != nil {
				t.Fatalf("%s: %v", path, err)
			}
			all = append(all, sections...)
		}
		for _, sec := range all {
			for _, text := range sec.Lines {
				found := sums(text)
				if equals := strings.Count(text, "="); equals != len(found) {
					t.Errorf("%s, %s: %q has %d sums, and %d were understood", path, sec.Title, text, equals, len(found))
				}
				for _, sum := range found {
					done[sec.Title]++
					if off, most := sum.off(); off > most {
						t.Errorf("%s, %s: %q is off by %g, and rounding allows %g", path, sec.Title, text, off, most)
					}
				}
			}
		}
	}
	for _, title := range []string{"density", "load", "growing out", "own hair", "added hair"} {
		if done[title] < 30 {
			t.Errorf("%s: %d sums were done again", title, done[title])
		}
	}
}

// sum is an expression with the result that is printed after it.
type sum struct{ tokens []string }

var (
	ofUnits  = regexp.MustCompile(`(hairs|mm|mg|g|µg|cm²|mm²|own|of|that reach so far)(/(cm²|mm²|mm|cm))?`)
	ofBundle = regexp.MustCompile(`([0-9.]+) % of ([0-9.]+)² / 4π`)
	ofSums   = regexp.MustCompile(`[0-9.(][0-9.()×/+ ]*[×/+][0-9.()×/+ ]*= *[0-9.]+`)
	ofTokens = regexp.MustCompile(`[0-9]+(\.[0-9]+)?|[×/+()=]`)
)

// sums are the sums in a line, without its units. Per cent, and µg and mm to g, are factors of their own.
func sums(text string) []sum {
	factor := ""
	if strings.Contains(text, "µg/cm =") {
		factor = "/ 10000000 "
	}
	text = ofBundle.ReplaceAllString(text, fmt.Sprintf("$1 / 100 × $2 × $2 / %.9f", 4*math.Pi))
	text = ofUnits.ReplaceAllString(text, "")
	var found []sum
	for _, at := range ofSums.FindAllStringIndex(text, -1) {
		m, by := text[at[0]:at[1]], factor
		if strings.HasPrefix(strings.TrimSpace(text[at[1]:]), "%") {
			by = "× 100 "
		}
		found = append(found, sum{ofTokens.FindAllString(strings.Replace(m, "=", by+"=", 1), -1)})
	}
	return found
}

// off is how far the result is from the expression, and how far rounding the result alone lets it be.
func (s sum) off() (off, most float64) {
	printed := s.tokens[len(s.tokens)-1]
	want, _ := strconv.ParseFloat(printed, 64)
	_, decimals, _ := strings.Cut(printed, ".")
	return math.Abs(s.eval() - want), 0.5*math.Pow(10, -float64(len(decimals))) + 1e-9
}

// eval works the expression out.
func (s sum) eval() float64 {
	at := 0
	var product, total func() float64
	number := func() float64 {
		tok := s.tokens[at]
		at++
		if tok == "(" {
			v := total()
			at++ // the closing one
			return v
		}
		v, err := strconv.ParseFloat(tok, 64)
		if err != nil {
			panic(fmt.Sprint(s.tokens, err))
		}
		return v
	}
	product = func() float64 {
		v := number()
		for {
			switch s.tokens[at] {
			case "×":
				at++
				v *= number()
			case "/":
				at++
				v /= number()
			default:
				return v
			}
		}
	}
	total = func() float64 {
		v := product()
		for s.tokens[at] == "+" {
			at++
			v += product()
		}
		return v
	}
	return total()
}

// TestFindingsAreDerived holds the derivation of every finding of those sheets to its value, its limit and where the
// limit comes from; and of what is computed to the figure once more, outside of the message.
func TestFindingsAreDerived(t *testing.T) {
	derived := map[string]int{}
	for path, s := range sheets(t) {
		table := tableOf(t, s)
		for _, f := range rule.Check(s, table).Findings {
			sections := why.Finding(s, table, f)
			last := sections[len(sections)-1]
			if !strings.Contains(strings.Join(last.Lines, "\n"), f.Message()) || !strings.Contains(last.Title, f.Rule) {
				t.Errorf("%s: %s ends in %q", path, f.Message(), last)
			}
			if f.Source != "" && !strings.Contains(strings.Join(last.Lines, "\n"), f.Source) {
				t.Errorf("%s: %s does not say where the limit comes from: %q", path, f.Message(), last)
			}
			before := ""
			for _, sec := range sections[:len(sections)-1] {
				before += sec.Title + "\n" + strings.Join(sec.Lines, "\n") + "\n"
			}
			want := ""
			switch f.Rule {
			case "thin-veil", "shows-up":
				want = fmt.Sprintf("= %.1f hairs/mm", f.Value)
			case "overdue":
				if f.Unit != "" {
					want = fmt.Sprintf("= %.1f weeks", f.Value)
				}
			case "load", "split", "total-load", "length-blend":
				want = fmt.Sprintf("= %.0f %%", f.Value)
			case "nape", "ear", "temple", "fringe", "part", "face":
				if f.Reading.Kind == rule.ByCover { // what grows out
					hang := s.Hang(fall.Weeks[f.Reading.Time])
					want = fmt.Sprintf("%s, the hairline is %.1f mm down", f.Reading.Way.In(s), float64(hang)-f.Value)
				}
				if f.Severity == rule.Stop && f.What != "" && !math.IsInf(f.Value, 0) {
					want = fmt.Sprintf("%.1f mm", f.Value)
				}
			}
			if !strings.Contains(before, want) {
				t.Errorf("%s: %s, %s: no %q in\n%s", path, f.Rule, f.Message(), want, before)
			}
			derived[f.Rule]++
			safe(t, sections)
		}
	}
	for _, r := range rule.All {
		if derived[r.ID] == 0 {
			t.Errorf("nothing of %s was derived", r.ID)
		}
	}
}

// safe holds lines to what can be shown, and to never calling a figure a medical limit.
func safe(t *testing.T, sections []why.Section) {
	t.Helper()
	for _, sec := range sections {
		for _, text := range append([]string{sec.Title}, sec.Lines...) {
			if !printable.Clean(text) {
				t.Errorf("%q can't be shown", text)
			}
			if strings.Contains(strings.ReplaceAll(text, "not a medical limit", ""), "medical") {
				t.Errorf("%q speaks of medicine", text)
			}
		}
	}
}

// TestAssumptionsAreCalledSo holds what is assumed to saying so.
func TestAssumptionsAreCalledSo(t *testing.T) {
	s, _, err := sheetfile.Load("../../testdata/rules/nape/just-inside.toml") // of its hair nobody said anything
	if err != nil {
		t.Fatal(err)
	}
	table := tableOf(t, s)
	sections, err := why.Slot(s, table, rule.Check(s, table), s.Rows[0].Place, 0)
	if err != nil {
		t.Fatal(err)
	}
	text := fmt.Sprint(sections)
	for _, want := range []string{"nobody said; assumed", "nobody said how long the own hair is", "assumption, no source", "common practice, no source", "from memory", "Loussouarn"} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q in\n%s", want, text)
		}
	}
}

// TestNoSuchSlot holds slots that are not there to an error that says which are.
func TestNoSuchSlot(t *testing.T) {
	s, _, err := sheetfile.Load("../../assets/sheets/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	table := tableOf(t, s)
	rep := rule.Check(s, table)
	if _, err := why.Slot(s, table, rep, sheet.Place{At: 60}, 150); err == nil || !strings.Contains(err.Error(), "height 60 has slots from -") {
		t.Errorf("a slot beyond the line: %v", err)
	}
	if _, err := why.Slot(s, table, rep, sheet.Place{At: 61}, 0); err == nil || !strings.Contains(err.Error(), "nearest is at height 60") {
		t.Errorf("a line that is not there: %v", err)
	}
	line, err := table.Line(sheet.Place{At: 60})
	if err != nil {
		t.Fatal(err)
	}
	bare, err := why.Slot(s, table, rep, sheet.Place{At: 60}, line.First)
	if err != nil || !strings.Contains(fmt.Sprint(bare), "no hair grows here") {
		t.Errorf("a slot without hair: %v, %v", bare, err)
	}
}
