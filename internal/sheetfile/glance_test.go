package sheetfile

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// glance reads bytes as Glance reads a file.
func glance(t testing.TB, data []byte) (*sheet.Sheet, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sheet.toml")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return Glance(path)
}

// A sheet that is read at a glance is the sheet that is read in full, to the last digit of the places that mean a line of
// the map.
func TestGlanceGivesWhatDecodeGives(t *testing.T) {
	texts := map[string][]byte{}
	for _, path := range sampleFiles(t, "good") {
		texts[filepath.Base(path)] = readSample(t, path)
	}
	rounds := 25
	if testing.Short() {
		rounds = 10
	}
	r := rand.New(rand.NewPCG(3, 14))
	for i := range rounds {
		texts[fmt.Sprint("random ", i)] = Encode(randomSheet(t, r))
	}
	for name, text := range texts {
		want, _, err := Decode(name, text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := glance(t, text)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: at a glance it is another sheet\n%s", name, diff(fmt.Sprintf("%+v", *want), fmt.Sprintf("%+v", *got)))
		}
	}
}

// What is wrong with a file is found at a glance too, but for what takes the head to tell.
func TestGlanceIsAsStrict(t *testing.T) {
	var taken []string
	for _, path := range sampleFiles(t, "bad") {
		name := strings.TrimSuffix(filepath.Base(path), ".toml")
		s, err := glance(t, readSample(t, path))
		if err == nil {
			taken = append(taken, name)
			continue
		}
		if s != nil {
			t.Errorf("%s: there is a sheet beside the error", name)
		}
		wantSafeError(t, err)
	}
	want := []string{
		"hairline-under-the-head",
		"head-circumference-in-cm", "head-circumference-large-confirmed", "head-circumference-large", "head-circumference-rare",
		"head-ear-to-ear-impossible", "head-ear-to-ear-rare", "head-ear-to-ear-top", "head-front-to-nape", "head-nape-width",
		"keep-off-beside", "keep-off-high", "keep-off-low",
		"row-along-between", "row-below", "row-between-lines", "row-far-above", "row-too-high",
		"turns-off-hair",
	}
	if !slices.Equal(taken, want) {
		t.Errorf("at a glance these are taken:\n%s", strings.Join(taken, "\n"))
	}
}

func TestGlanceErrors(t *testing.T) {
	s, err := Glance(filepath.Join(t.TempDir(), "gone.toml"))
	if s != nil || err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("sheet %v, error %v", s, err)
	}
	wantSafeError(t, err)
}

// worn is a sheet of a client who has come for some time: 120 bonds, fitted, looked at twice, moved up and looked at again.
func worn(t testing.TB) *sheet.Sheet {
	t.Helper()
	s := sheet.New(scalp.Sizes[1].Measures)
	for i := range 10 {
		bonds := map[int]sheet.Bond{}
		for k := range 12 {
			bonds[2*k-11] = sheet.Bond{Shade: 'a', Split: k%4 == 0, Trimmed: k < 2}
		}
		s = s.WithRow(sheet.NewRow(sheet.Place{At: scalp.MM(50 + 10*i)}, bonds))
	}
	var err error
	for i, kind := range []sheet.VisitKind{sheet.Fitting, sheet.Inspection, sheet.Inspection, sheet.Refit, sheet.Inspection} {
		if s, err = visit.Begin(s, kind, fmt.Sprintf("2026-%02d-12", 1+i), "JM"); err != nil {
			t.Fatal(err)
		}
		mark := sheet.Sealed
		if kind.TakesOut() {
			mark = sheet.TakenOut
		}
		for _, at := range visit.Unseen(s, i) {
			s = visit.See(s, i, at, mark)
		}
		if kind.TakesOut() {
			if s, err = visit.Resolve(s, i, visit.Proposed(s, i)); err != nil {
				t.Fatal(err)
			}
		}
		if kind.Fits() {
			for _, at := range visit.NotDone(s, i) {
				s = visit.Fit(s, i, at, s.Bond(at.At, at.Slot))
			}
		}
		if s, err = visit.Finish(s, i); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

func BenchmarkGlance(b *testing.B) {
	path := filepath.Join(b.TempDir(), "worn.toml")
	s := worn(b)
	if err := Save(path, s); err != nil {
		b.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(info.Size())
	for b.Loop() {
		if _, err := Glance(path); err != nil {
			b.Fatal(err)
		}
	}
}
