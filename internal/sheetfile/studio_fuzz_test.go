package sheetfile

import (
	"bytes"
	"math"
	"testing"
	"time"
	"unicode/utf8"

	"example.org/underveil/assets"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/studio"
)

// Whatever the bytes: an error is safe to show and has its place, and a studio is within its bounds.
func FuzzDecodeStudio(f *testing.F) {
	for _, kind := range []string{"good-studio", "bad-studio"} {
		for _, path := range sampleFiles(f, kind) {
			if data := readSample(f, path); len(data) < 1<<13 {
				f.Add(data)
			}
		}
	}
	f.Add(assets.Studio)
	f.Fuzz(func(t *testing.T, data []byte) {
		s, notices, err := DecodeStudio("any\x1b.toml", data)
		if err != nil {
			wantSafeError(t, err)
			if isText(data) {
				wantPlaces(t, err)
			}
			return
		}
		for _, n := range notices {
			if n.Line == 0 || !printable.Clean(n.Text) {
				t.Errorf("notice %+q on line %d", n.Text, n.Line)
			}
		}
		wantSafeStudio(t, s)
		wantBounds(t, s)
	})
}

// isText reports whether bytes are text at all; if not, the file as a whole is wrong.
func isText(data []byte) bool {
	text := bytes.TrimPrefix(data, []byte("\ufeff"))
	return utf8.Valid(data) && !bytes.ContainsRune(data, 0) && len(bytes.TrimSpace(text)) > 0
}

// wantBounds asserts that all numbers of a studio are such as a studio may have.
func wantBounds(t *testing.T, s *studio.Studio) {
	t.Helper()
	most := largestSum(s.Currency)
	h := s.Service
	for _, part := range []time.Duration{h.Setup, h.Row, h.Bond, h.Check, h.Finish} {
		if part < 0 || part > 10*time.Hour || part%time.Second != 0 {
			t.Errorf("a time of %v", part)
		}
	}
	if h.Hour < 0 || h.Hour > most || h.Spare < 0 || h.Spare > 100 {
		t.Errorf("%+v", h)
	}
	type kind struct {
		name   string
		length scalp.MM
	}
	seen := map[kind]bool{}
	for _, st := range s.Strands {
		k := kind{st.Name, st.Length}
		if st.Price < 0 || st.Price > most || st.OnHand < 0 || st.Pack < 1 || !(st.Grams > 0) || !(st.Ends >= 0) || math.IsNaN(float64(st.Length)) || seen[k] {
			t.Errorf("%+v", st)
		}
		seen[k] = true
	}
}
