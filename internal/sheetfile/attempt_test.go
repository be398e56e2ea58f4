package sheetfile

import (
	"bytes"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// begun is a sheet that steps may begin with.
func begun() *sheet.Sheet {
	return sheet.New(scalp.Sizes[1].Measures).WithBond(sheet.Place{At: 60}, 0, sheet.Bond{Shade: 'a'})
}

// Samples whose names begin with kept are wrong in what is not handed in.
func TestBadAttemptSamples(t *testing.T) {
	wantRefused(t, "bad-attempt", func(name string, data []byte) ([]Notice, error) {
		a, notices, err := DecodeAttempt(name, data)
		b, noticesToo, errToo := DecodeProgress(name, data, begun())
		switch {
		case strings.HasPrefix(name, "kept-"):
			a, notices, err = b, noticesToo, errToo
		case strings.HasPrefix(name, "plain-"):
		case err == nil || errToo == nil || err.Error() != errToo.Error():
			t.Errorf("%s: with steps the error is %v, want %v", name, errToo, err)
		}
		if err != nil && a != nil {
			t.Error("there is an attempt beside the error")
		}
		return notices, err
	})
}

// randomAttempt is an attempt with anything that one can have, on a start.
func randomAttempt(r *rand.Rand, start *sheet.Sheet) *lesson.Attempt {
	place := func() sheet.Place {
		if r.IntN(3) == 0 {
			return sheet.Place{Along: true, At: randomNumber(r, -250, 250)}
		}
		return sheet.Place{At: randomNumber(r, 0, tallest)}
	}
	a := &lesson.Attempt{Exercise: randomText(r), Learner: randomText(r), Date: randomDate(r), Hints: r.IntN(9), Answered: r.IntN(2) == 0, Sheet: start}
	a.Signed = lesson.Signed{Assessor: randomText(r), On: randomDate(r), Seal: randomText(r)}
	spots := map[sheet.Spot]bool{}
	for range r.IntN(12) {
		spot := sheet.Spot{At: (&decoder{sheet: start}).onLine(place()), Slot: r.IntN(2*sheet.MaxSlot+1) - sheet.MaxSlot}
		if spots[spot] {
			continue
		}
		spots[spot] = true
		a.Found = append(a.Found, sheet.Concern{Rule: pick(r, rule.All).ID, On: sheet.OnSlot, Row: spot.At, Slot: spot.Slot})
		a.Off = append(a.Off, lesson.Off{Spot: spot, Right: randomNumber(r, -200, 200), Up: randomNumber(r, -200, 200)})
		a.Seen = append(a.Seen, spot)
	}
	slices.SortFunc(a.Seen, sheet.Spot.Compare)
	for range r.IntN(4) {
		of := r.IntN(1001)
		a.Marks = append(a.Marks, lesson.Marked{On: "2026-03-02", Of: of, Met: r.IntN(of + 1), Passed: r.IntN(2) == 0, Hints: r.IntN(9), Answered: r.IntN(2) == 0})
	}
	for range r.IntN(4) {
		a.Sheet = triedStep(smallStep(a.Sheet, r), r)
		a.Steps = append(a.Steps, lesson.Step{Did: randomText(r), Sheet: a.Sheet})
	}
	return a
}

// triedStep does something besides, or takes it back.
func triedStep(s *sheet.Sheet, r *rand.Rand) *sheet.Sheet {
	tried := s.Tried
	for range r.IntN(6) {
		at := sheet.Spot{At: sheet.Place{At: s.LineGap * scalp.MM(r.IntN(4))}, Slot: r.IntN(3) - 1}
		if r.IntN(3) == 0 {
			at.At = sheet.Place{Along: true, At: s.HoleSpacing * scalp.MM(r.IntN(4)-2)}
		}
		switch r.IntN(6) {
		case 0:
			tried = tried.WithMark(at, "")
		case 1:
			tried = tried.WithMark(at, pick(r, rule.All).ID)
		case 2:
			tried = tried.WithSeen(at)
		case 3:
			tried = tried.WithoutSeen(at)
		case 4:
			tried = tried.WithOff(sheet.Off{Spot: at})
		default:
			tried = tried.WithOff(sheet.Off{Spot: at, Right: randomNumber(r, -200, 200), Up: randomNumber(r, -200, 200)})
		}
	}
	return s.With(func(c *sheet.Sheet) { c.Tried = tried })
}

// What a learner made of an exercise is taken up as it was left, and handed in without how it was made. A seal over it still fits when it
// is read.
func TestRandomAttemptsComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 5))
	same := func(what string, got, want any) {
		t.Helper()
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, want %+v", what, got, want)
		}
	}
	for range fewer(40, 8) {
		start := randomGood(t, r)
		a := randomAttempt(r, start)
		seal := Seal(a)
		data := EncodeAttempt(a, start)
		kept, notices, err := DecodeProgress("kept.toml", data, start)
		if err != nil || len(notices) > 0 {
			t.Fatalf("%v, notices %v, in\n%s", err, notices, data)
		}
		handed, notices, err := DecodeAttempt("handed.toml", EncodeAttempt(a, nil))
		if err != nil || len(notices) > 0 {
			t.Fatalf("%v, notices %v, in\n%s", err, notices, data)
		}
		for _, got := range []*lesson.Attempt{kept, handed} {
			same("the exercise", got.Exercise, a.Exercise)
			same("the learner", []any{got.Learner, got.Date, got.Hints, got.Answered}, []any{a.Learner, a.Date, a.Hints, a.Answered})
			same("the assessor", got.Signed, a.Signed)
			same("what was found", got.Found, a.Found)
			same("what is off", got.Off, a.Off)
			same("what was seen", got.Seen, a.Seen)
			same("the sheet", string(Encode(got.Sheet)), string(Encode(a.Sheet)))
			same("the seal", Seal(got), seal)
		}
		same("the marks", kept.Marks, a.Marks)
		for i := range a.Steps {
			if got, want := kept.Steps[i].Sheet.Tried, a.Steps[i].Sheet.Tried; !got.Same(want) {
				t.Errorf("tried: %+v, want %+v", got, want)
			}
			same("a step", []string{kept.Steps[i].Did, string(Encode(kept.Steps[i].Sheet))}, []string{a.Steps[i].Did, string(Encode(a.Steps[i].Sheet))})
		}
		if len(handed.Steps)+len(handed.Marks) > 0 {
			t.Error("steps or marks are handed in")
		}
		if again := EncodeAttempt(kept, start); !bytes.Equal(again, data) {
			t.Errorf("written again it is another file:\n%s", diff(string(data), string(again)))
		}
		if t.Failed() {
			t.Fatalf("in\n%s", data)
		}
	}
}

// A head sheet is handed in as it is, and is then an attempt of nobody at any exercise.
func TestAPlainSheetIsAnAttempt(t *testing.T) {
	data := readSample(t, filepath.Join(samples, "good", "full.toml"))
	a, _, err := DecodeAttempt("full.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	if want := (&lesson.Attempt{Sheet: wantSheet(t, "full.toml", data)}); !reflect.DeepEqual(a, want) {
		t.Errorf("%+v, want %+v", a, want)
	}
	again, _, err := DecodeAttempt("again.toml", EncodeAttempt(a, nil))
	if err != nil || !reflect.DeepEqual(again, a) {
		t.Errorf("it came back as %+v, error %v", again, err)
	}
}

// Who an attempt is by and how it was marked is read without its sheets, be they right or not.
func TestGlanceProgress(t *testing.T) {
	path := filepath.Join(t.TempDir(), "first-row.toml")
	data := readSample(t, filepath.Join(samples, "good-attempt", "full.toml"))
	a, _, err := DecodeAttempt("full.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	kept, _, err := DecodeProgress("full.toml", data, a.Sheet)
	if err != nil {
		t.Fatal(err)
	}
	want := &lesson.Attempt{Exercise: kept.Exercise, Learner: kept.Learner, Date: kept.Date, Hints: kept.Hints, Answered: kept.Answered, Signed: kept.Signed, Marks: kept.Marks}
	for _, data := range [][]byte{data, bytes.Replace(data, []byte("circumference = 560"), []byte("circumference = 5"), 1)} {
		if err := WriteAtomic(path, data); err != nil {
			t.Fatal(err)
		}
		got, err := GlanceProgress(path)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%+v, error %v, want %+v", got, err, want)
		}
	}
	if err := WriteAtomic(path, bytes.Replace(data, []byte("of = 9"), []byte("of = -9"), 1)); err != nil {
		t.Fatal(err)
	}
	if got, err := GlanceProgress(path); err == nil || got != nil {
		t.Errorf("a mark out of less than none: %+v", got)
	}
}

// A seal is over all that an assessor signs, and over nothing else.
func TestSeal(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	start := randomGood(t, r).With(func(c *sheet.Sheet) {
		c.Shades = []sheet.Shade{{Key: 'a', Name: "oat", Length: 500, Grams: 0.8, Pack: 25}}
		c.Rows, c.Visits = nil, nil
	})
	spot := sheet.Spot{At: sheet.Place{At: 60}, Slot: 3}
	a := lesson.Attempt{Exercise: "first-row", Learner: "ML", Date: "2026-03-02", Hints: 2, Sheet: start,
		Found:  []sheet.Concern{{Rule: "nape", On: sheet.OnSlot, Row: spot.At, Slot: spot.Slot}},
		Off:    []lesson.Off{{Spot: spot, Right: 2}},
		Seen:   []sheet.Spot{spot},
		Signed: lesson.Signed{Assessor: "JK", On: "2026-03-03"}}
	seals := map[string]string{Seal(&a): "the attempt"}
	beside := spot
	beside.Slot++
	for what, change := range map[string]func(a *lesson.Attempt){
		"the exercise": func(a *lesson.Attempt) { a.Exercise = "second-row" },
		"the learner":  func(a *lesson.Attempt) { a.Learner = "MM" },
		"the date":     func(a *lesson.Attempt) { a.Date = "2026-03-01" },
		"the answer":   func(a *lesson.Attempt) { a.Answered = !a.Answered },
		"the hints":    func(a *lesson.Attempt) { a.Hints = 1 },
		"no hints":     func(a *lesson.Attempt) { a.Hints = 0 },
		"the assessor": func(a *lesson.Attempt) { a.Assessor = "JL" },
		"the day":      func(a *lesson.Attempt) { a.On = "2026-03-04" },
		"the rule found": func(a *lesson.Attempt) {
			a.Found = []sheet.Concern{{Rule: "ear", On: sheet.OnSlot, Row: spot.At, Slot: spot.Slot}}
		},
		"the slot found": func(a *lesson.Attempt) {
			a.Found = []sheet.Concern{{Rule: "nape", On: sheet.OnSlot, Row: spot.At, Slot: spot.Slot + 1}}
		},
		"nothing found": func(a *lesson.Attempt) { a.Found = nil },
		"how far off":   func(a *lesson.Attempt) { a.Off = []lesson.Off{{Spot: spot, Right: 2.5}} },
		"which way off": func(a *lesson.Attempt) { a.Off = []lesson.Off{{Spot: spot, Up: 2}} },
		"which is off":  func(a *lesson.Attempt) { a.Off = []lesson.Off{{Spot: beside, Right: 2}} },
		"what was seen": func(a *lesson.Attempt) { a.Seen = []sheet.Spot{beside} },
		"more seen":     func(a *lesson.Attempt) { a.Seen = []sheet.Spot{spot, beside} },
		"the title":     func(a *lesson.Attempt) { a.Sheet = a.Sheet.With(func(c *sheet.Sheet) { c.Title += "x" }) },
		"a bond":        func(a *lesson.Attempt) { a.Sheet = a.Sheet.WithBond(spot.At, 0, sheet.Bond{Shade: 'a'}) },
		"a split bond":  func(a *lesson.Attempt) { a.Sheet = a.Sheet.WithBond(spot.At, 0, sheet.Bond{Shade: 'a', Split: true}) },
		"a limit":       func(a *lesson.Attempt) { a.Sheet = a.Sheet.WithLimit(sheet.LimitNape, 3) },
		"a measure":     func(a *lesson.Attempt) { a.Sheet = a.Sheet.With(func(c *sheet.Sheet) { c.Measures.NapeWidth++ }) },
		"an accepted stop": func(a *lesson.Attempt) {
			a.Sheet = a.Sheet.WithAccepted(sheet.Accepted{Concern: a.Found[0], Reason: "so"})
		},
	} {
		other := a
		change(&other)
		seal := Seal(&other)
		if same, known := seals[seal]; known {
			t.Errorf("with another of %s the seal is that of %s", what, same)
		}
		seals[seal] = what
	}
	unsigned := a
	unsigned.Seal = "4f1c"
	unsigned.Steps = []lesson.Step{{Did: "place a bond", Sheet: start}}
	unsigned.Marks = []lesson.Marked{{On: "2026-03-02", Met: 7, Of: 9}}
	if Seal(&unsigned) != Seal(&a) {
		t.Error("the seal depends on itself, or on what is not handed in")
	}
	if unsigned.Seal != "4f1c" {
		t.Error("to seal an attempt changes it")
	}
}

// Of more marks than there is room for the last are kept, and the best.
func TestTheBestMarkIsKept(t *testing.T) {
	a := &lesson.Attempt{Exercise: "first-row", Sheet: begun()}
	for i := range mostMarks + 50 {
		a.Marks = append(a.Marks, lesson.Marked{On: "2026-03-02", Met: i % 7, Of: 9, Hints: i})
	}
	a.Marks[20] = lesson.Marked{On: "2026-03-02", Met: 8, Of: 9, Hints: 20}
	a.Marks[30] = lesson.Marked{On: "2026-03-02", Met: 3, Of: 3, Passed: true, Hints: 30}
	kept, _, err := DecodeProgress("marks.toml", EncodeAttempt(a, begun()), begun())
	if err != nil {
		t.Fatal(err)
	}
	if n := len(kept.Marks); n != mostMarks || kept.Marks[0] != a.Marks[30] || !slices.Equal(kept.Marks[1:], a.Marks[51:]) {
		t.Errorf("%d marks, of which the first is %+v", n, kept.Marks[0])
	}
}

// The fullest attempt that can be written can be read again.
func TestTheFullestAttemptComesBack(t *testing.T) {
	a := &lesson.Attempt{Exercise: "first-row", Learner: "ML", Sheet: begun()}
	for i := range mostTried {
		spot := sheet.Spot{At: sheet.Place{At: scalp.MM(10 * (i / 100))}, Slot: i % 100}
		a.Found = append(a.Found, sheet.Concern{Rule: "nape", On: sheet.OnSlot, Row: spot.At, Slot: spot.Slot})
		a.Off = append(a.Off, lesson.Off{Spot: spot, Right: 1})
		a.Seen = append(a.Seen, spot)
	}
	for range mostMarks {
		a.Marks = append(a.Marks, lesson.Marked{On: "2026-03-02", Met: 9, Of: 9, Passed: true, Hints: 1, Answered: true})
	}
	s := begun()
	for i := range mostKept {
		s = s.WithBond(sheet.Place{At: 60}, i%9-4, sheet.Bond{Shade: 'a', Split: i%2 == 0})
		s = s.WithMark(sheet.Spot{At: sheet.Place{At: scalp.MM(10 * (i % 20))}, Slot: i % 50}, "nape")
		a.Steps = append(a.Steps, lesson.Step{Did: "a step", Say: "look", Sheet: s})
	}
	for what, but := range map[string]func(a *lesson.Attempt){
		"to find": func(a *lesson.Attempt) { a.Off, a.Seen = nil, nil },
		"to fit":  func(a *lesson.Attempt) { a.Found = nil },
	} {
		full := *a
		but(&full)
		kept, _, err := DecodeProgress("full.toml", EncodeAttempt(&full, begun()), begun())
		if err != nil {
			t.Errorf("%s: %v", what, err)
		} else if len(kept.Found) != len(full.Found) || len(kept.Off) != len(full.Off) || len(kept.Seen) != len(full.Seen) || len(kept.Marks) != mostMarks || len(kept.Steps) != mostKept {
			t.Errorf("%s: %d found, %d off, %d seen, %d marks, %d steps", what, len(kept.Found), len(kept.Off), len(kept.Seen), len(kept.Marks), len(kept.Steps))
		}
	}
}
