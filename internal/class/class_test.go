package class

import (
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// Each row has the mark that a judge of its own gives, who reads nothing but that attempt; and what was missed is counted right.
func TestRowsAreTheJudgesMarks(t *testing.T) {
	college := map[sheet.LimitName]float64{sheet.LimitNape: 24, sheet.LimitBondGap: 7}
	for _, task := range tasks {
		for _, limits := range []map[sheet.LimitName]float64{nil, college} {
			t.Run(string(task), func(t *testing.T) {
				x, folder := exercise(t, task), t.TempDir()
				all := aClass(t, folder, x, fewer(24, 10))
				c := marked(t, folder, Terms{Exercise: x, Limits: limits, LimitsOf: "Ashgrove College", Points: true})
				if len(c.HandIns) != len(all) {
					t.Fatalf("%d rows", len(c.HandIns))
				}
				missed, states := map[Missed]int{}, map[State]int{}
				for _, h := range c.HandIns {
					data, err := os.ReadFile(filepath.Join(folder, h.File))
					if err != nil {
						t.Fatal(err)
					}
					a, _, err := sheetfile.DecodeAttempt(h.File, data)
					if err != nil {
						t.Fatal(err)
					}
					want, err := (&lesson.Judge{Exercise: x, Limits: limits, LimitsOf: "Ashgrove College"}).Mark(a)
					if err != nil {
						t.Fatal(err)
					}
					states[h.State]++
					if h.Met != want.Met || h.Of != want.Of || h.Share != want.Share() || (h.State == Passed) != want.Passed || !h.Marked() || h.Next != want.Next || len(h.Points) != len(want.Points) {
						t.Fatalf("%s: %+v\nwant %+v", h.File, h, want)
					}
					if h.Learner != all[h.File].Learner || h.Hints != all[h.File].Hints || h.Plain != (all[h.File].Exercise == "") {
						t.Errorf("%s: %+v", h.File, h)
					}
					first := Point{}
					for i, p := range want.Points {
						if got := h.Points[i]; got != (Point{p.What, p.Why, p.Met, p.Off}) {
							t.Fatalf("%s: %+v\nwant %+v", h.File, got, p)
						}
						if !p.Met {
							missed[Missed{What: p.What, Wrongly: p.Off && p.Concern != nil}]++
							if first == (Point{}) {
								first = h.Points[i]
							}
						}
					}
					if h.First != first {
						t.Errorf("%s: first missed %+v, want %+v", h.File, h.First, first)
					}
				}
				if states[NotYet] == 0 || limits == nil && states[Passed] == 0 {
					t.Errorf("passed or not: %v", states)
				}
				got := map[Missed]int{}
				for i, m := range c.Missed {
					if i > 0 && m.By > c.Missed[i-1].By {
						t.Errorf("%+v after %+v", m, c.Missed[i-1])
					}
					by := m.By
					m.By = 0
					got[m] = by
				}
				if !maps.Equal(got, missed) || len(missed) == 0 {
					t.Errorf("missed %v\nwant %v", got, missed)
				}
			})
		}
	}
}

// However many work at it, and whether or not all points are kept, the rows are the same.
func TestWorkersDoNotMatter(t *testing.T) {
	x, folder := exercise(t, lesson.Place), t.TempDir()
	aClass(t, folder, x, fewer(80, 20))
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	want := marked(t, folder, Terms{Exercise: x})
	runtime.GOMAXPROCS(7)
	got := marked(t, folder, Terms{Exercise: x, Points: true})
	for i := range got.HandIns {
		got.HandIns[i].Points, got.HandIns[i].Next = nil, ""
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
}

// Hand-ins with the same content are found whatever they are called; what differs by one bond, mark or millimetre is another.
func TestSameContent(t *testing.T) {
	rng := seeded(4)
	for _, task := range tasks {
		x := exercise(t, task)
		for range fewer(40, 10) {
			a := attempt(x, rng, true)
			b := *a
			b.Learner, b.Date, b.Hints, b.Assessor = "ZZ", "2026-04-01", a.Hints+1, "JK"
			b.Sheet = a.Sheet.With(func(c *sheet.Sheet) {
				c.Title, c.Client, c.Date, c.Notes = "mine", "777", "2026-05-05", "all my own"
				c.Visits = slices.Clone(c.Visits)
			})
			b.Found, b.Off = slices.Clone(a.Found), slices.Clone(a.Off)
			slices.Reverse(b.Found)
			slices.Reverse(b.Off)
			if contentOf(a) != contentOf(&b) {
				t.Fatalf("%s: another title makes another content", task)
			}
			other := b
			switch k := rng.IntN(4); {
			case k == 0 && len(a.Found) > 0:
				other.Found = a.Found[1:]
			case k == 1 && len(a.Off) > 0:
				other.Off = slices.Clone(a.Off)
				other.Off[0].Up += 0.5
			case k == 2 && len(a.Seen) > 0:
				other.Seen = a.Seen[1:]
			default:
				other.Sheet = b.Sheet.WithBond(sheet.Place{At: 200}, 3, sheet.Bond{Shade: 'b', Split: true})
			}
			if contentOf(a) == contentOf(&other) {
				t.Fatalf("%s: what is different is the same content", task)
			}
		}
	}
	if s := clean(t); contentOf(&lesson.Attempt{Sheet: s}) == contentOf(&lesson.Attempt{Sheet: s.WithLimit(sheet.LimitNape, 21)}) {
		t.Error("another limit is the same content")
	}
}

// Who did a visit and how long it took makes no other content; when it was does, since hair grows meanwhile.
func TestSameVisits(t *testing.T) {
	data, err := assets.Sheets.ReadFile("sheets/returning.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := sheetfile.Decode("returning.toml", data)
	if err != nil || len(s.Visits) == 0 {
		t.Fatal(err)
	}
	with := func(change func(*sheet.Visit), accepted ...sheet.Accepted) content {
		return contentOf(&lesson.Attempt{Sheet: s.With(func(c *sheet.Sheet) {
			c.Visits = slices.Clone(c.Visits)
			change(&c.Visits[0])
			c.Accepted = accepted
		})})
	}
	nape := sheet.Accepted{Concern: sheet.Concern{Rule: "nape"}, Reason: "she asked for it", By: "ML", Date: "2026-03-02"}
	was, accepted := with(func(*sheet.Visit) {}), with(func(*sheet.Visit) {}, nape)
	nape.By, nape.Date = "ZZ", "2026-03-03"
	if with(func(v *sheet.Visit) { v.By, v.Notes, v.Seconds = "ZZ", "quick", 99 }) != was || with(func(*sheet.Visit) {}, nape) != accepted {
		t.Error("by whom and how long makes another content")
	}
	if with(func(v *sheet.Visit) { v.Date = "2020-01-01" }) == was || accepted == was {
		t.Error("another day, or an acceptance, is the same content")
	}
}

func TestSameGroups(t *testing.T) {
	for _, task := range tasks {
		x, folder := exercise(t, task), t.TempDir()
		answer := (&lesson.Judge{Exercise: x}).Answered()
		named := func(a *lesson.Attempt, learner string) *lesson.Attempt {
			b := *a
			b.Exercise, b.Learner = x.ID, learner
			b.Sheet = b.Sheet.With(func(c *sheet.Sheet) { c.Client = learner })
			return &b
		}
		own := named(answer, "")
		if task == lesson.Find {
			own.Found = own.Found[1:]
		} else {
			own.Sheet = own.Sheet.WithBond(sheet.Place{At: 40}, 0, sheet.Bond{})
			own.Seen = own.Seen[:max(0, len(own.Seen)-1)]
		}
		handIn(t, folder, "a.toml", named(own, "AB"))
		handIn(t, folder, "b.toml", named(&lesson.Attempt{Sheet: x.Start}, "BC"))
		handIn(t, folder, "c.toml", named(answer, "CD"))
		handIn(t, folder, "d.toml", named(own, "DE"))
		put(t, folder, "e.toml", sheetfile.Encode(x.Start.With(func(c *sheet.Sheet) { c.Title = "mine" })))
		handIn(t, folder, "f.toml", named(answer, "FG"))
		handIn(t, folder, "g.toml", named(&lesson.Attempt{Sheet: x.Start, Found: []sheet.Concern{{Rule: "ear", On: sheet.OnSlot, Row: sheet.Place{At: 60}}}}, "GH"))
		other := named(own, "ZZ")
		other.Exercise = "something-else"
		handIn(t, folder, "z.toml", other)
		c := marked(t, folder, Terms{Exercise: x})
		want := []Same{{"", []string{"a.toml", "d.toml"}}, {"the start, untouched", []string{"b.toml", "e.toml"}}, {"the worked answer", []string{"c.toml", "f.toml"}}}
		if task == lesson.Find { // all who are right hand in the same
			want = want[:2]
		}
		if !reflect.DeepEqual(c.Same, want) {
			t.Errorf("%s: %+v\nwant %+v", task, c.Same, want)
		}
		for _, h := range c.HandIns {
			like := ""
			for _, s := range want {
				if slices.Contains(s.Files, h.File) {
					like = s.Like
				}
			}
			if h.Like != like {
				t.Errorf("%s, %s: like %q, want %q", task, h.File, h.Like, like)
			}
		}
		if last := c.HandIns[7]; last.State != Elsewhere || last.Marked() || !strings.Contains(last.Why, `another exercise, "something-else"`) || c.Marked() != 7 {
			t.Errorf("%+v", last)
		}
	}
}

// What is signed and changed afterwards is told, and what is not signed is left alone.
func TestSeals(t *testing.T) {
	x, folder := exercise(t, lesson.Fit), t.TempDir()
	a := attempt(x, seeded(2), false)
	handIn(t, folder, "a.toml", a)
	signed := *a
	signed.Assessor, signed.On = "JK", "2026-03-03"
	handIn(t, folder, "b.toml", &signed)
	signed.Seal = sheetfile.Seal(&signed)
	handIn(t, folder, "c.toml", &signed)
	changed := signed
	changed.Sheet = changed.Sheet.WithBond(sheet.Place{At: 40}, 0, sheet.Bond{Shade: 'b'})
	handIn(t, folder, "d.toml", &changed)
	changed = signed
	changed.Learner = "another"
	handIn(t, folder, "e.toml", &changed)
	for i, want := range []string{"", "no seal", "", "does not fit", "does not fit"} {
		h := marked(t, folder, Terms{Exercise: x}).HandIns[i]
		if (h.Unsealed == "") != (want == "") || !strings.Contains(h.Unsealed, want) || !h.Marked() || (h.Assessor == "JK") != (i > 0) {
			t.Errorf("%s: %q, want %q", h.File, h.Unsealed, want)
		}
	}
}

// What cannot be read has a row of its own, and the others are marked all the same.
func TestWhatCannotBeRead(t *testing.T) {
	x, folder := exercise(t, lesson.Place), t.TempDir()
	a := attempt(x, seeded(3), false)
	handIn(t, folder, "fine.toml", a)
	handIn(t, folder, "FINE2.TOML", a)
	handIn(t, folder, ".hidden.toml", a)
	handIn(t, folder, "notes.txt", a)
	put(t, folder, "practice.toml", sheetfile.EncodeExercise(x))
	put(t, folder, "copy.toml", sheetfile.EncodeExercise(x))
	put(t, folder, "broken.toml", []byte("format = 1\n[head]\ncircumference =\n"))
	put(t, folder, "empty.toml", nil)
	put(t, folder, "large.toml", []byte(strings.Repeat("# long\n", sheetfile.MaxSize/7+1)))
	put(t, folder, "binary.toml", []byte{0xff, 0xfe, 0, 1})
	put(t, folder, "tapes.toml", []byte(strings.Replace(string(sheetfile.Encode(a.Sheet)), "circumference = 556", "circumference = 90", 1)))
	if err := os.MkdirAll(filepath.Join(folder, "folder.toml"), 0o700); err != nil {
		t.Fatal(err)
	}
	handIn(t, filepath.Join(folder, "folder.toml"), "below.toml", a)
	reasons := map[string]string{"broken.toml": "line 3: ", "empty.toml": "the file is empty", "large.toml": "bytes", "binary.toml": "UTF-16",
		"copy.toml": "this is an exercise", "folder.toml": "this is a folder", "tapes.toml": "circumference 90 mm"}
	if os.Symlink("fine.toml", filepath.Join(folder, "link.toml")) == nil {
		reasons["link.toml"] = "this is a link"
	}
	if os.Geteuid() != 0 && runtime.GOOS != "windows" {
		handIn(t, folder, "shut.toml", a)
		if err := os.Chmod(filepath.Join(folder, "shut.toml"), 0); err != nil {
			t.Fatal(err)
		}
		reasons["shut.toml"] = "no permission to read it"
	}
	c, unread, err := Mark(folder, Terms{Exercise: x, NoHandIn: []string{"", filepath.Join(folder, "practice.toml")}})
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]string{}
	for _, u := range unread {
		told[filepath.Base(u.File)] = u.Why
	}
	good := 0
	for _, h := range c.HandIns {
		reason, bad := reasons[h.File]
		switch {
		case !bad && h.Marked():
			good++
		case !bad || h.State != NotRead || !strings.Contains(h.Why, reason) || strings.Contains(h.Why, "\n") || told[h.File] != h.Why:
			t.Errorf("%+v, want %q, told %q", h, reason, told[h.File])
		}
	}
	if good != 2 || len(c.HandIns) != len(reasons)+2 || len(unread) != len(reasons) || c.Count(NotRead) != len(reasons) {
		t.Errorf("%d marked of %d, %d told of", good, len(c.HandIns), len(unread))
	}
	if len(c.Same) != 1 || !slices.Equal(c.Same[0].Files, []string{"FINE2.TOML", "fine.toml"}) {
		t.Errorf("the same are %v", c.Same)
	}
	if !slices.IsSortedFunc(c.HandIns, func(a, b HandIn) int { return strings.Compare(a.File, b.File) }) {
		t.Error("the rows are not by name")
	}
}

func TestNoFolder(t *testing.T) {
	x := exercise(t, lesson.Place)
	folder := t.TempDir()
	put(t, folder, "a.toml", nil)
	for name, want := range map[string]string{"nowhere": "no such folder", "a.toml": "is a file"} {
		if c, _, err := Mark(filepath.Join(folder, name), Terms{Exercise: x}); c != nil || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if c := marked(t, t.TempDir(), Terms{Exercise: x}); len(c.HandIns) != 0 || c.Mean() != 0 {
		t.Errorf("%+v", c)
	}
}

// A hand-in on another head does not cost the next one its table.
func TestJudges(t *testing.T) {
	x := exercise(t, lesson.Place)
	m := newMarker(Terms{Exercise: x}, nil)
	s := x.Answer
	for name, other := range map[string]*sheet.Sheet{
		"hairline": s.WithLandmark(scalp.Landmarks()[0], scalp.Shift{Up: 3}),
		"limit":    s.WithLimit(sheet.LimitFringeDepth, 40),
		"strip":    s.With(func(c *sheet.Sheet) { c.Aside = true }),
		"parting":  s.With(func(c *sheet.Sheet) { c.Partings = nil }),
		"patch":    s.With(func(c *sheet.Sheet) { c.KeepOff = []sheet.KeepOff{{Height: 90, Radius: 10}} }),
	} {
		if m.judgeOf(other) != m.other {
			t.Errorf("%s: the judge of the start", name)
		}
	}
	if m.judgeOf(s) != m.judge || m.judgeOf(s.WithBond(sheet.Place{At: 40}, 0, sheet.Bond{})) != m.judge {
		t.Error("another judge for the head of the start")
	}
}
