package sheetfile

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// changes is what is written where one sheet follows another.
func changes(before, after *sheet.Sheet) string {
	return changesBetween(blocksOf(Encode(before)), blocksOf(Encode(after)))
}

// What stays as it is is not written: of a sheet with 120 bonds and five visits, a bond more is its row.
func TestChangesAreWhatIsDifferent(t *testing.T) {
	s := worn(t)
	if got := changes(s, s.With(func(*sheet.Sheet) {})); got != "" {
		t.Errorf("nothing is different, and this is written:\n%s", got)
	}
	at := sheet.Place{At: 60}
	row, _ := s.WithBond(at, 0, sheet.Bond{Shade: 'a'}).Row(at)
	for what, c := range map[string]struct {
		after *sheet.Sheet
		want  string
	}{
		"a bond":         {s.WithBond(at, 0, sheet.Bond{Shade: 'a'}), "[[row]]\nheight = 60\nbonds = \"" + row.Text() + "\"\n"},
		"a row goes":     {s.WithRow(sheet.Row{Place: at}), "[[row]]\nheight = 60\nbonds = \"\"\n"},
		"a title":        {s.With(func(c *sheet.Sheet) { c.Title = "x" }), "title = \"x\"\n"},
		"no parting":     {s.With(func(c *sheet.Sheet) { c.Partings = nil }), "without = [\"parting\"]\n"},
		"no visits":      {s.With(func(c *sheet.Sheet) { c.Visits = nil }), "without = [\"visit\"]\n"},
		"a limit":        {s.WithLimit(sheet.LimitNape, 3), "[limits]\nnape = 3\n"},
		"a note":         {s.With(func(c *sheet.Sheet) { c.Notes = "[[row]]\nx" }), "notes = \"[[row]]\\nx\"\n"},
		"a tape":         {s.With(func(c *sheet.Sheet) { c.Measures.NapeWidth = 107 }), "[head]\ncircumference = 560\near_to_ear = 340\nfront_to_nape = 355\nnape_width = 107\n"},
		"nothing at all": {s.With(func(c *sheet.Sheet) { c.Shades, c.Rows, c.Visits, c.Partings = nil, nil, nil, nil }), "shade = []\nwithout = [\"parting\", \"visit\"]\n" + rowsGone(s)},
	} {
		if got := changes(s, c.after); got != c.want {
			t.Errorf("%s:\n%s", what, diff(c.want, got))
		}
	}
}

func rowsGone(s *sheet.Sheet) string {
	gone := ""
	for _, r := range s.Rows {
		gone += fmt.Sprintf("\n[[row]]\nheight = %v\nbonds = \"\"\n", float64(r.Place.At))
	}
	return gone
}

// changed reads a sheet after a change that is written by hand.
func changed(t *testing.T, start *sheet.Sheet, change string) (*sheet.Sheet, error) {
	t.Helper()
	data := append(EncodeScript(&lesson.Script{Start: start}), "\n[[step]]\nchanges = '''\n"+change+"\n'''\n"...)
	s, notices, err := DecodeScript("changed.toml", data)
	if len(notices) > 0 {
		t.Errorf("notices %v", notices)
	}
	if err != nil {
		return nil, err
	}
	return s.At(1), nil
}

// What a change says takes the place of what was there, however it is written, and all else stays.
func TestHandWrittenChanges(t *testing.T) {
	s := begun().With(func(c *sheet.Sheet) { c.Notes = "it was so" }).WithLimit(sheet.LimitNape, 25).WithBond(sheet.Place{Along: true, At: -16}, 3, sheet.Bond{Shade: 'a'})
	height, along := sheet.Place{At: 60}, sheet.Place{Along: true, At: -16}
	bond := sheet.Bond{Shade: 'a'}
	for change, want := range map[string]*sheet.Sheet{
		"":                        s,
		"# a remark alone":        s,
		"row = []":                s,
		"title = '''":             nil, // the text ends here
		"title = 'x'":             s.With(func(c *sheet.Sheet) { c.Title = "x" }),
		`"title" = "[row]"`:       s.With(func(c *sheet.Sheet) { c.Title = "[row]" }),
		`title = "\"\"\""` + "\n": s.With(func(c *sheet.Sheet) { c.Title = `"""` }),
		"notes = \"\"\"\n[[row]]\nnape = 3\"\"\"":            s.With(func(c *sheet.Sheet) { c.Notes = "[[row]]\nnape = 3" }),
		"without = ['notes', 'limits']":                      s.With(func(c *sheet.Sheet) { c.Notes = ""; c.Limits = nil }),
		"without = ['notes']\nnotes = 'new'":                 s.With(func(c *sheet.Sheet) { c.Notes = "new" }),
		"without = ['wish', 'aside', 'visit']":               s,
		"without = []":                                       s,
		"limits.ear = 12":                                    s.WithoutLimit(sheet.LimitNape).WithLimit(sheet.LimitEar, 12),
		"limits = {'ear' = 12, nape = '2 cm'}":               s.WithLimit(sheet.LimitEar, 12).WithLimit(sheet.LimitNape, 20),
		"[[row]]\nheight = 60\nbonds = '(.).a'":              s.WithBond(height, 0, sheet.Bond{}).WithBond(height, 2, bond),
		"row = [{bonds = '', height = '6 cm'}]":              s.WithBond(height, 0, sheet.Bond{}),
		"[[row]]\nheight = 59.9999999\nbonds = ''":           s.WithBond(height, 0, sheet.Bond{}),
		"[[row]]\nalong = '-1.6 cm'\nbonds = ''":             s.WithRow(sheet.Row{Place: along}),
		"[['row']]\n\"along\" = -16.0\nbonds = '(a)'":        s.WithBond(along, 3, sheet.Bond{}).WithBond(along, 0, bond),
		"[[row]]\nalong = 16\nbonds = ''":                    s, // there is none
		"[[row]]\nheight = 70\nbonds = '(.)'":                s,
		"hole_spacing = 7\n[[row]]\nalong = -16\nbonds = ''": s.WithRow(sheet.Row{Place: along}).With(func(c *sheet.Sheet) { c.HoleSpacing = 7 }),
		"hole_spacing = 7\nwithout = ['notes']\n[[row]]\nalong = -16\nbonds = ''\n[[row]]\nalong = -14\nbonds = 'a(.)'": s.WithRow(sheet.Row{Place: along}).
			WithBond(sheet.Place{Along: true, At: -14}, -1, bond).With(func(c *sheet.Sheet) { c.HoleSpacing = 7; c.Notes = "" }),
		"[[shade]]\nkey = 'b'\n[[shade]]\nkey = 'a'\nname = 'oat'\n": s.With(func(c *sheet.Sheet) {
			c.Shades = []sheet.Shade{{Key: 'b', Name: "shade b", Length: 500, Grams: 0.8, Pack: 25}, {Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 25}}
		}),
		"parting = []": s.With(func(c *sheet.Sheet) { c.Partings = nil }),
		"[head]\ncircumference = 556\near_to_ear = 338\nfront_to_nape = 352\nnape_width = 106\nconfirmed = true": s.With(func(c *sheet.Sheet) {
			c.Measures = scalp.Measures{Circumference: 556, EarToEar: 338, FrontToNape: 352, NapeWidth: 106, Confirmed: true}
		}),
	} {
		got, err := changed(t, s, change)
		if want == nil {
			if err == nil {
				t.Errorf("%q is accepted", change)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", change, err)
		} else if got, want := string(Encode(got)), string(Encode(want)); got != want {
			t.Errorf("%q:\n%s", change, diff(want, got))
		}
	}
}

// However much is said over and over, the sheet after a change is the one that Decode reads, and what does not change is not read twice.
func TestWhatDoesNotChangeIsKept(t *testing.T) {
	s := worn(t)
	same := func(a, b any) bool { return reflect.ValueOf(a).Pointer() == reflect.ValueOf(b).Pointer() }
	after := func(change string) (before, after *sheet.Sheet) {
		t.Helper()
		data := append(EncodeScript(&lesson.Script{Start: s}), "\n[[step]]\nchanges = '''\n"+change+"\n'''\n"...)
		script, _, err := DecodeScript("kept.toml", data)
		if err != nil {
			t.Fatal(err)
		}
		return script.At(0), script.At(1)
	}
	if a, b := after("title = 'x'"); !same(a.Visits, b.Visits) || !same(a.Rows, b.Rows) {
		t.Error("with another title rows and visits are read again")
	}
	if a, b := after("[[row]]\nheight = 60\nbonds = '(a)'"); !same(a.Visits, b.Visits) || same(a.Rows, b.Rows) {
		t.Error("with another row the visits are read again, or the rows are not")
	}
	if a, b := after("[[shade]]\nkey = 'a'\nname = 'x'\n[[shade]]\nkey = 'b'"); same(a.Visits, b.Visits) || same(a.Rows, b.Rows) {
		t.Error("with other shades rows and visits are not read again")
	}
}

// manySteps is a demonstration with steps that each do one thing.
func manySteps(start *sheet.Sheet, n int, step func(i int, s *sheet.Sheet) *sheet.Sheet) *lesson.Script {
	script := &lesson.Script{Title: "many", Start: start}
	s := start
	for i := range n {
		s = step(i, s)
		script.Steps = append(script.Steps, lesson.Step{Did: fmt.Sprint("step ", i+1), Sheet: s})
	}
	return script
}

// wantDrawn asserts that a demonstration with too many steps is written so that it can be read, with the last of them as they were.
func wantDrawn(t *testing.T, script *lesson.Script) {
	t.Helper()
	data := EncodeScript(script)
	read, _, err := DecodeScript("many.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	n, all := len(read.Steps), len(script.Steps)
	if n < 2 || n >= all || len(data) > MaxSize {
		t.Fatalf("%d steps came back of %d, in %d bytes", n, all, len(data))
	}
	if read.Steps[0].Did != before {
		t.Errorf("the first step is called %q", read.Steps[0].Did)
	}
	for i := 1; i < n; i++ {
		want, got := script.Steps[all-n+i], read.Steps[i]
		if got.Did != want.Did || string(Encode(got.Sheet)) != string(Encode(want.Sheet)) {
			t.Fatalf("step %d of %d is %q, want %q, or its sheet is another one", i+1, n, got.Did, want.Did)
		}
	}
	if string(Encode(read.Steps[0].Sheet)) != string(Encode(script.Steps[all-n].Sheet)) {
		t.Error("the first steps lead to another sheet")
	}
}

// A long day's work is written so that it can be read again: what a file has no room for is drawn together.
func TestTooManyStepsAreDrawnTogether(t *testing.T) {
	if testing.Short() {
		t.Skip("it reads megabytes")
	}
	title := func(i int, s *sheet.Sheet) *sheet.Sheet {
		return s.With(func(c *sheet.Sheet) { c.Title = fmt.Sprint("title ", i) })
	}
	t.Run("steps", func(t *testing.T) { wantDrawn(t, manySteps(begun(), mostSteps+1, title)) })
	t.Run("bytes", func(t *testing.T) {
		long := strings.Repeat("x", MaxSize/100)
		wantDrawn(t, manySteps(begun(), 120, func(i int, s *sheet.Sheet) *sheet.Sheet {
			return s.With(func(c *sheet.Sheet) { c.Notes = fmt.Sprint(i, long) })
		}))
	})
	t.Run("heads", func(t *testing.T) {
		wantDrawn(t, manySteps(begun(), mostEffort.fits+5, func(i int, s *sheet.Sheet) *sheet.Sheet {
			return s.With(func(c *sheet.Sheet) { c.Measures.NapeWidth = scalp.MM(105 + i%2) })
		}))
	})
	t.Run("long sheets", func(t *testing.T) {
		notes := strings.Repeat("𝒙", longestNotes) // of four bytes each
		wantDrawn(t, manySteps(begun().With(func(c *sheet.Sheet) { c.Notes = notes }), 20+mostEffort.size/len(notes), title))
	})
	t.Run("visits", func(t *testing.T) {
		wantDrawn(t, manySteps(worn(t), 400, func(i int, s *sheet.Sheet) *sheet.Sheet {
			return s.With(func(c *sheet.Sheet) {
				c.Shades = slices.Clone(c.Shades)
				c.Shades[0].Name = fmt.Sprint("oat ", i)
			})
		}))
	})
	t.Run("enough", func(t *testing.T) { // all of them come back
		script := manySteps(begun(), mostSteps, title)
		read, _, err := DecodeScript("enough.toml", EncodeScript(script))
		if err != nil || len(read.Steps) != mostSteps || read.Steps[0].Did != "step 1" {
			t.Errorf("error %v, script %v", err, read)
		}
	})
}

// A short file may not take long to read.
func TestTooMuchWorkIsRefused(t *testing.T) {
	if testing.Short() {
		t.Skip("it reads megabytes")
	}
	many := func(start *sheet.Sheet, n int, change func(i int) string) []byte {
		data := EncodeScript(&lesson.Script{Start: start})
		for i := range n {
			data = append(data, "\n[[step]]\nchanges = '''\n"+change(i)+"\n'''\n"...)
		}
		return data
	}
	notes := strings.Repeat("𝒙", longestNotes)
	for what, data := range map[string][]byte{
		"heads": many(begun(), 500, func(i int) string {
			return fmt.Sprintf("[head]\ncircumference = 560\near_to_ear = 340\nfront_to_nape = 355\nnape_width = %d", 105+i%2)
		}),
		"hairlines":   many(begun(), 500, func(i int) string { return fmt.Sprintf("hairline.'front centre' = [0, 0.%d]", i+1) }),
		"turns":       many(begun(), 500, func(i int) string { return fmt.Sprintf("turns.whorl = [0, 0.%d]", i+1) }),
		"spacings":    many(begun(), 500, func(i int) string { return fmt.Sprintf("hole_spacing = %d", 7+i%2) }),
		"long sheets": many(begun().With(func(c *sheet.Sheet) { c.Notes = notes }), 500, func(i int) string { return fmt.Sprintf("title = '%d'", i) }),
	} {
		_, _, err := DecodeScript(what+".toml", data)
		if err == nil {
			t.Errorf("%s: it is read", what)
			continue
		}
		wantSafeError(t, err)
		wantPlaces(t, err)
		if !strings.Contains(err.Error(), "more than one file may have") {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// What is written is never more than what is read: the writer reckons at least what reading takes.
func TestReadingTakesNoMoreThanIsReckoned(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 3))
	for range fewer(40, 10) {
		script := &lesson.Script{Start: randomGood(t, r)}
		for s := script.Start; len(script.Steps) < 5; script.Steps = append(script.Steps, lesson.Step{Sheet: s}) {
			s = smallStep(s, r)
		}
		_, reckoned := stepsText(&scriptFile, script.Start, script.Steps)
		file, bad := openLesson(&scriptFile, "reckoned.toml", EncodeScript(script))
		if bad != nil {
			t.Fatal(bad)
		}
		at, wrong := draftOf(file.sheetIn("start"))
		if wrong != nil {
			t.Fatal(wrong)
		}
		taken := effort{}
		for _, step := range file.list("step") {
			next, more, ok := step.nestedChanges("changes", at)
			if !ok {
				t.Fatal(file.errs)
			}
			at, taken = next, taken.plus(more)
		}
		if !taken.within(reckoned) {
			t.Errorf("it takes %+v, and %+v was reckoned, in\n%s", taken, reckoned, EncodeScript(script))
		}
	}
}
