package sheetfile

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Whatever was read before, sheet or no sheet, the next one is read, and refused, as if it were the first.
func TestHeadsReadAsIfTheyWereTheFirst(t *testing.T) {
	var texts [][]byte
	for _, kind := range []string{"good", "bad"} {
		for _, path := range sampleFiles(t, kind) {
			texts = append(texts, readSample(t, path))
		}
	}
	r := rand.New(rand.NewPCG(8, 2))
	base := randomGood(t, r)
	for range fewer(50, 12) { // sheets that differ from one another in one thing of the head
		s := headStep(base, r)
		texts = append(texts, Encode(s), EncodeAttempt(&lesson.Attempt{Exercise: "first-row", Sheet: s}, nil))
		if r.IntN(3) == 0 {
			base = s
		}
	}
	var h Heads
	refused := 0
	for round := range fewer(2, 1) {
		r.Shuffle(len(texts), func(i, j int) { texts[i], texts[j] = texts[j], texts[i] })
		for i, text := range texts {
			want, notices, wrong := DecodeAttempt("x.toml", text)
			got, told, err := h.decodeAttempt("x.toml", text)
			switch {
			case !reflect.DeepEqual(err, wrong):
				t.Fatalf("round %d, %d: error %v\nwant %v\n%s", round, i, err, wrong, text)
			case !reflect.DeepEqual(got, want) || !slices.Equal(told, notices):
				t.Fatalf("round %d, %d: read as another\n%s", round, i, text)
			case err != nil:
				refused++
			}
		}
	}
	if refused == 0 {
		t.Error("none was refused")
	}
}

// headStep changes one thing of the head, or nothing. What comes of it may not fit.
func headStep(s *sheet.Sheet, r *rand.Rand) *sheet.Sheet {
	by := scalp.Shift{Right: scalp.MM(r.IntN(61) - 30), Up: scalp.MM(r.IntN(61) - 30)}
	far := func() scalp.MM { return scalp.MaxShift * scalp.MM(r.IntN(9)-4) / 4 }
	switch r.IntN(12) {
	case 8, 9, 10: // may lie off the hair, and by other tapes or another hairline on it
		return s.WithTurn(sheet.LowTie, scalp.Shift{Right: far(), Up: far()})
	case 0:
		return s.With(func(c *sheet.Sheet) { c.Measures.NapeWidth += scalp.MM(r.IntN(41) - 20) })
	case 1:
		return s.With(func(c *sheet.Sheet) { c.Measures.Circumference += scalp.MM(r.IntN(81) - 40) })
	case 2:
		return s.WithLandmark(scalp.Landmarks()[r.IntN(len(scalp.Landmarks()))], by)
	case 3:
		turn := sheet.Turns[r.IntN(len(sheet.Turns))]
		if turn == sheet.HalfUpSection {
			by.Right = 0
		}
		return s.WithTurn(turn, by)
	case 4:
		return s.With(func(c *sheet.Sheet) { c.LineGap = []scalp.MM{5, 10, 20}[r.IntN(3)] })
	case 5:
		return s.With(func(c *sheet.Sheet) { c.HoleSpacing = scalp.MM(6 + r.IntN(4)) })
	case 6:
		return s.With(func(c *sheet.Sheet) { c.Aside = !c.Aside })
	}
	return s
}

func TestHeadsLoadAttempt(t *testing.T) {
	var h Heads
	if a, _, err := h.LoadAttempt(filepath.Join(t.TempDir(), "gone.toml")); a != nil || err == nil {
		t.Errorf("attempt %v, error %v", a, err)
	} else {
		wantSafeError(t, err)
	}
	path := filepath.Join(t.TempDir(), "a.toml")
	s := randomGood(t, rand.New(rand.NewPCG(1, 1)))
	if err := WriteAtomic(path, EncodeAttempt(&lesson.Attempt{Exercise: "first-row", Learner: "ML", Sheet: s}, nil)); err != nil {
		t.Fatal(err)
	}
	a, _, err := h.LoadAttempt(path)
	if err != nil || a.Learner != "ML" || !bytes.Equal(Encode(a.Sheet), Encode(s)) {
		t.Errorf("attempt %v, error %v", a, errors.Unwrap(err))
	}
}

func BenchmarkHeads(b *testing.B) {
	s := worn(b).WithTurn(sheet.Whorl, scalp.Shift{Right: 4}).WithLandmark(scalp.Landmarks()[3], scalp.Shift{Up: 2}).WithLandmark(scalp.Landmarks()[5], scalp.Shift{Up: 2})
	text := EncodeAttempt(&lesson.Attempt{Exercise: "first-row", Sheet: s}, nil)
	for name, h := range map[string]*Heads{"none": nil, "one": {}} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if _, _, err := h.decodeAttempt("x.toml", text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
