package lesson_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// What is made of a seeded sheet can be handed to learners as it is, also once it was written and read; and its hints name a rule or a
// row and never a slot.
func TestToFindIsComplete(t *testing.T) {
	answer, rounds := cleanSheet(t), uint64(6)
	if testing.Short() {
		rounds = 2
	}
	for seed := range rounds {
		count := 1 + int(seed)
		made, err := lesson.Seed(answer, count, seed)
		if err != nil {
			t.Fatal(err)
		}
		x := lesson.ToFind("faults", answer, made)
		read, notices, err := sheetfile.DecodeExercise("faults.toml", sheetfile.EncodeExercise(x))
		if err != nil || notices != nil {
			t.Fatal(notices, err)
		}
		for _, x := range []*lesson.Exercise{x, read} {
			j := &lesson.Judge{Exercise: x}
			if problems := j.Check(); problems != nil {
				t.Fatalf("seed %d: %v", seed, problems)
			}
			if len(x.Hints) != count || x.Findings != lesson.Never || x.Title != "Faults to find: a clean sheet" {
				t.Errorf("seed %d: %+v", seed, x)
			}
			named := map[string]bool{}
			for i, fault := range x.Faults {
				text, err := j.HintText(i, j.Exercise.Start)
				if err != nil {
					t.Fatal(err)
				}
				r, _ := rule.ByID(fault.Rule)
				if says := strings.Contains(text, r.Title); says == named[r.ID] {
					t.Errorf("seed %d, hint %d: %q", seed, i, text)
				} else if !says && !strings.Contains(text, fault.Row.String()) {
					t.Errorf("seed %d, hint %d says nothing: %q", seed, i, text)
				}
				named[r.ID] = true
				if strings.Contains(text, rule.SlotName(fault.Row, fault.Slot)) || strings.Contains(x.Brief+x.Who+strings.Join(x.Counts(), " "), fault.Row.String()) {
					t.Errorf("seed %d: what should be found is given away: %q", seed, text)
				}
			}
		}
	}
}

func TestToFindTellsOfTheClient(t *testing.T) {
	s := ordinary()
	for want, change := range map[string]func(*sheet.Sheet){
		"A client with medium straight hair of 300 mm, worn down, for volume.": func(*sheet.Sheet) {},
		"Client 014, worn down, low ponytail and half up.": func(c *sheet.Sheet) {
			c.Client, c.Hair, c.Wish = "014", sheet.Hair{}, nil
			c.Worn = []sheet.Wear{sheet.WornDown, sheet.WornLowTail, sheet.WornHalfUp}
		},
		"A client with curly hair, worn down, for length and highlights.": func(c *sheet.Sheet) {
			c.Hair, c.Worn, c.Wish = sheet.Hair{Texture: "curly"}, nil, []sheet.Look{sheet.Length, sheet.Highlights}
		},
		"A client with hair of 250 mm, worn down.": func(c *sheet.Sheet) { c.Hair, c.Wish = sheet.Hair{Length: 250}, nil },
	} {
		if got := lesson.ToFind("x", s.With(change), lesson.Seeded{Sheet: s}).Who; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What counts is said in the words in which it is marked, but of faults only how many there are.
func TestCounts(t *testing.T) {
	s := ordinary()
	x := &lesson.Exercise{Task: lesson.Place, Start: s, Answer: s.WithRow(rowOf(60, every(2, 6)...)), Clear: []string{"nape", lesson.AllStops},
		May:     []lesson.Part{lesson.Rows},
		Targets: []lesson.Target{{Of: lesson.FigureBonds, Least: 5, Most: math.Inf(1)}}, MostStrands: 30}
	var want []string
	m := mark(t, x, x.Answer)
	for _, p := range m.Points {
		want = append(want, p.What)
	}
	if got := x.Counts(); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	find := &lesson.Exercise{Task: lesson.Find, Faults: make([]sheet.Concern, 3)}
	if got := find.Counts(); len(got) != 1 || !strings.HasPrefix(got[0], "3 faults to find") {
		t.Errorf("%q", got)
	}
	fit := &lesson.Exercise{Task: lesson.Fit, Tolerance: 2.5, Start: s, Answer: x.Answer.WithRow(rowOf(80, 0)), Clear: x.Clear, Targets: x.Targets}
	want = nil
	for _, p := range mark(t, fit, fit.Answer).Points {
		want = append(want, p.What)
	}
	if got := fit.Counts(); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
