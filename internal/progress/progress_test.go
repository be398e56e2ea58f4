package progress_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/progress"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

func exercise(t *testing.T) *lesson.Exercise {
	t.Helper()
	x, _, err := sheetfile.LoadExercise("../../testdata/editor/exercises/place.toml")
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// work is an attempt of two steps with a hint and two marks.
func work(x *lesson.Exercise, learner string) *lesson.Attempt {
	at := sheet.Place{At: 40}
	one := x.Start.WithBond(at, 0, sheet.Bond{Shade: 'a'})
	two := one.WithBond(at, 2, sheet.Bond{Shade: 'a'})
	return &lesson.Attempt{Exercise: x.ID, Learner: learner, Date: "2026-03-02", Hints: 1, Sheet: two,
		Steps: []lesson.Step{{Did: "place a bond", Sheet: one}, {Did: "place a bond", Sheet: two}},
		Marks: []lesson.Marked{{On: "2026-03-01", Met: 3, Of: 4}, {On: "2026-03-02", Met: 2, Of: 4, Hints: 1}}}
}

// What is kept comes back, step by step, for the learner however the name is typed, and for nobody else.
func TestWhatIsKeptComesBack(t *testing.T) {
	f, x := progress.Folder(filepath.Join(t.TempDir(), "learners")), exercise(t)
	if a, err := f.Take(x, "ML"); a != nil || err != nil {
		t.Fatalf("before anything was kept: %v, %v", a, err)
	}
	kept := work(x, "ML 2")
	if err := f.Keep(x, kept); err != nil {
		t.Fatal(err)
	}
	a, err := f.Take(x, "ml 2")
	if err != nil || a == nil {
		t.Fatalf("%v, %v", a, err)
	}
	if a.Learner != "ML 2" || a.Hints != 1 || len(a.Steps) != 2 || !slices.Equal(a.Marks, kept.Marks) {
		t.Errorf("came back as %+v", a)
	}
	for i, step := range a.Steps {
		if got, want := string(sheetfile.Encode(step.Sheet)), string(sheetfile.Encode(kept.Steps[i].Sheet)); got != want {
			t.Errorf("step %d is\n%s\nwant\n%s", i+1, got, want)
		}
	}
	if other, err := f.Take(x, "JK"); other != nil || err != nil {
		t.Errorf("somebody else has %v, %v", other, err)
	}
	record := f.Of("ML 2")[x.ID]
	if best, ok := record.Best(); !ok || best.Met != 3 || record.Passed() || record.Hints != 1 {
		t.Errorf("the record is %+v", record)
	}
	info, err := os.Stat(filepath.Join(string(f), "ml_2", x.ID+".toml"))
	if err != nil || info.Mode().Perm() != 0o600 && runtime.GOOS != "windows" { // where the folder gives the rights
		t.Errorf("the file is for others too: %v, %v", info, err)
	}
}

// Whoever practised last comes first.
func TestLearnersByWhen(t *testing.T) {
	f, x := progress.Folder(t.TempDir()), exercise(t)
	for i, name := range []string{"ML", "JK", "Żaneta 3"} {
		if err := f.Keep(x, work(x, name)); err != nil {
			t.Fatal(err)
		}
		dir := filepath.Join(string(f), strings.ReplaceAll(strings.ToLower(name), " ", "_"))
		when := time.Date(2026, 3, 5-i, 12, 0, 0, 0, time.UTC)
		if err := os.Chtimes(filepath.Join(dir, x.ID+".toml"), when, when); err != nil {
			t.Fatal(err)
		}
	}
	if got := f.Learners(); !slices.Equal(got, []string{"ML", "JK", "Żaneta 3"}) {
		t.Errorf("learners %q", got)
	}
	if got := progress.Folder("").Learners(); got != nil {
		t.Errorf("no folder has learners %q", got)
	}
}

// A name that could lead anywhere else is refused.
func TestNames(t *testing.T) {
	for typed, want := range map[string]string{"ML": "ML", "  Ann   B ": "Ann B", "7": "7", "Żaneta": "Żaneta", "a-b": "a-b"} {
		if got, err := progress.Name(typed); got != want || err != nil {
			t.Errorf("%q is %q, %v; want %q", typed, got, err, want)
		}
	}
	for _, typed := range []string{"", "  ", "..", "a/b", `a\b`, "a\x1b[2J", "C:", "*", "\u202eab", strings.Repeat("a", 25)} {
		if got, err := progress.Name(typed); err == nil {
			t.Errorf("%q is taken as %q", typed, got)
		}
	}
}

// What does not fit the exercise any more is put aside, not lost and not in the way.
func TestWhatDoesNotFitIsPutAside(t *testing.T) {
	f, x := progress.Folder(t.TempDir()), exercise(t)
	if err := f.Keep(x, work(x, "ML")); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(string(f), "ml", x.ID+".toml")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	broken := strings.Replace(string(data), "height = 40", "height = 41", 3)
	if err := os.WriteFile(path, []byte(broken), 0o600); err != nil {
		t.Fatal(err)
	}
	for n := 1; n < 3; n++ { // nothing that was put aside is written over
		a, err := f.Take(x, "ML")
		aside := fmt.Sprintf("%s.old%d", path, n)
		if a == nil || a.Sheet != nil || len(a.Marks) != 2 || a.Hints != 1 || err == nil || !strings.Contains(err.Error(), aside) {
			t.Fatalf("%v, %v", a, err)
		}
		if was, err := os.ReadFile(aside); err != nil || string(was) != broken {
			t.Errorf("what was put aside is not what was there (%v)", err)
		}
		if err := os.WriteFile(path, []byte(broken), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if a, err := f.Take(x, "ML"); a != nil || err != nil {
		t.Errorf("after that: %v, %v", a, err)
	}
}

// A file that cannot be read, or is no progress at all, does not hide the others.
func TestABrokenFileHidesNoOther(t *testing.T) {
	f, x := progress.Folder(t.TempDir()), exercise(t)
	if err := f.Keep(x, work(x, "ML")); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"zz.toml": "nonsense", "a.toml": "format = 1\n"} {
		if err := os.WriteFile(filepath.Join(string(f), "ml", name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	late := time.Now().Add(time.Hour)
	if err := os.Chtimes(filepath.Join(string(f), "ml", "zz.toml"), late, late); err != nil {
		t.Fatal(err)
	}
	if got := f.Learners(); !slices.Equal(got, []string{"ML"}) {
		t.Errorf("learners %q", got)
	}
	if all := f.Of("ML"); len(all) != 1 || len(all[x.ID].Marks) != 2 {
		t.Errorf("records %+v", all)
	}
}

// Of marks alike the latest is the best, and of all the highest.
func TestBest(t *testing.T) {
	r := progress.Record{Marks: []lesson.Marked{{On: "2026-03-01", Met: 3, Of: 4}, {On: "2026-03-02", Met: 3, Of: 4}, {On: "2026-03-03", Met: 2, Of: 4}}}
	if best, ok := r.Best(); !ok || best.On != "2026-03-02" {
		t.Errorf("the best is %v, %v", best, ok)
	}
	if _, ok := (progress.Record{}).Best(); ok {
		t.Error("without a mark there is a best one")
	}
}

// Learners and exercises with like names do not get into each other's work.
func TestNobodyElsesWork(t *testing.T) {
	f, x := progress.Folder(t.TempDir()), exercise(t)
	own := *x
	own.Own, own.Start = true, x.Start.WithBond(sheet.Place{At: 60}, 0, sheet.Bond{Shade: 'a'})
	other := own
	other.Start = x.Start.WithBond(sheet.Place{At: 60}, 1, sheet.Bond{Shade: 'a'})
	if err := f.Keep(x, work(x, "A B")); err != nil {
		t.Fatal(err)
	}
	for _, of := range []*lesson.Exercise{&own, &other} {
		if a, err := f.Take(of, "A B"); a != nil || err != nil {
			t.Errorf("an exercise with the same name has %v, %v", a, err)
		}
	}
	if err := f.Keep(&own, work(&own, "A B")); err != nil {
		t.Fatal(err)
	}
	if a, err := f.Take(&other, "A B"); a != nil || err != nil {
		t.Errorf("another one of one's own has %v, %v", a, err)
	}
	if a, err := f.Take(x, "A-B"); a != nil || err != nil {
		t.Errorf("A-B has %v, %v", a, err)
	}
	if n := len(f.Of("A B")); n != 2 {
		t.Errorf("%d records", n)
	}
}

// Work that cannot be looked into is no reason to begin anew over it.
func TestUnreadableWorkIsLeft(t *testing.T) {
	f, x := progress.Folder(t.TempDir()), exercise(t)
	if err := os.MkdirAll(filepath.Join(string(f), "ml", x.ID+".toml"), 0o700); err != nil { // a folder in its place
		t.Fatal(err)
	}
	if a, err := f.Take(x, "ML"); a != nil || !errors.Is(err, progress.ErrKept) {
		t.Errorf("%v, %v", a, err)
	}
}
