package sheetfile

import (
	"bytes"
	"io/fs"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

// longestFuzzed is how many bytes a fuzzed file has at most, so that many are tried.
const longestFuzzed = 1 << 13

// checkLesson states what holds for any bytes, and reports whether they are a lesson of a kind: an error is safe to show and has its place,
// a lesson comes back as it was written, and one pass makes it canonical.
func checkLesson(t *testing.T, file lessonFile, data []byte) bool {
	t.Helper()
	once, texts, notices, err := file.again("any\x1b.toml", data)
	if err != nil {
		wantSafeError(t, err)
		if isText(data) {
			wantPlaces(t, err)
			wantSources(t, data, err)
		}
		if notices != nil {
			t.Error("there is a notice beside the error")
		}
		return false
	}
	for _, n := range notices {
		if n.Line == 0 || n.Line > 1+bytes.Count(data, []byte("\n")) || !printable.Clean(n.Text) {
			t.Errorf("notice %+q on line %d", n.Text, n.Line)
		}
	}
	for _, text := range texts {
		for _, line := range strings.Split(text, "\n") {
			if !printable.Clean(line) {
				t.Errorf("%+q is not safe to show", line)
			}
		}
	}
	for _, line := range strings.Split(string(once), "\n") {
		if !printable.Clean(line) {
			t.Errorf("the file is not safe to show: %+q", line)
		}
	}
	twice, _, notices, err := file.again("once.toml", once)
	if err != nil || len(notices) > 0 {
		t.Fatalf("what was written is refused: %v %v\n%s", err, notices, once)
	}
	if !bytes.Equal(twice, once) {
		t.Errorf("other bytes came back\n%s", diff(string(once), string(twice)))
	}
	return true
}

// seeds are the samples of a kind, and what comes with the program.
func seeds(t testing.TB, kind string, files fs.FS) (all [][]byte) {
	t.Helper()
	for _, folder := range []string{"good-" + kind, "bad-" + kind} {
		for _, path := range sampleFiles(t, folder) {
			all = append(all, readSample(t, path))
		}
	}
	if files != nil {
		err := fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(files, path)
			all = append(all, data)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return slices.DeleteFunc(all, func(data []byte) bool { return len(data) > longestFuzzed })
}

func fuzzLesson(f *testing.F, kind string, files fs.FS) {
	for _, data := range seeds(f, kind, files) {
		f.Add(data)
	}
	f.Add([]byte("#\ua080\r")) // a control character at the end, after one of three bytes
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) <= longestFuzzed {
			checkLesson(t, lessonFiles[kind], data)
		}
	})
}

func FuzzDecodeScript(f *testing.F)   { fuzzLesson(f, "demonstration", assets.Rules) }
func FuzzDecodeExercise(f *testing.F) { fuzzLesson(f, "exercise", assets.Exercises) }
func FuzzDecodeAttempt(f *testing.F)  { fuzzLesson(f, "attempt", nil) }

// Whatever the bytes: limits are within their bounds, and an error is safe to show and has its place.
func FuzzDecodeLimits(f *testing.F) {
	for _, data := range seeds(f, "limits", nil) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		of, limits, err := DecodeLimits("any\x1b.toml", data)
		if err != nil {
			wantSafeError(t, err)
			if isText(data) {
				wantPlaces(t, err)
				wantSources(t, data, err)
			}
			return
		}
		if !printable.Clean(of) || len(limits) == 0 {
			t.Errorf("%+q, %v", of, limits)
		}
		for name, v := range limits {
			i := slices.IndexFunc(sheet.Limits, func(info sheet.LimitInfo) bool { return info.Name == name })
			if i < 0 || !(v >= sheet.Limits[i].Low && v <= sheet.Limits[i].High) {
				t.Errorf("%s is %v", name, v)
			}
		}
	})
}

// Whatever stands in a change: it is read, or refused with a place in it, or at its key where what was there before no longer fits.
func FuzzChanges(f *testing.F) {
	start := begun().With(func(c *sheet.Sheet) { c.Notes = "so" }).WithBond(sheet.Place{Along: true, At: 16}, 3, sheet.Bond{Shade: 'a', Split: true})
	head := string(EncodeScript(&lesson.Script{Start: start})) + "\n[[step]]\nchanges = '''\n"
	for _, data := range seeds(f, "demonstration", assets.Rules) {
		for _, text := range strings.Split(string(data), "changes = '''\n")[1:] {
			change, _, _ := strings.Cut(text, "'''")
			f.Add(change)
		}
	}
	f.Fuzz(func(t *testing.T, change string) {
		if len(change) > longestFuzzed || strings.Contains(change, literal) || !isText([]byte(change)) {
			return
		}
		data := []byte(head + change + literal + "\n")
		if checkLesson(t, lessonFiles["demonstration"], data) {
			return
		}
		_, _, err := DecodeScript("change.toml", data)
		at := strings.Count(head, "\n")
		for _, e := range err.(Errors) {
			if e.Line < at {
				t.Errorf("line %d, before the change: %s", e.Line, e.Problem)
			}
		}
	})
}

// Lessons with a few lines taken out, swapped or changed: what a slip of the hand does.
func TestDamagedLessons(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 3))
	for kind, file := range lessonFiles {
		accepted, rounds := 0, fewer(200, 40)
		text := string(readSample(t, filepath.Join(samples, "good-"+kind, "full.toml")))
		for range rounds {
			damaged := damage(r, text)
			if checkLesson(t, file, []byte(damaged)) {
				accepted++
			}
			if t.Failed() {
				t.Fatalf("%s, in\n%s", kind, damaged)
			}
		}
		if accepted == 0 || accepted == rounds {
			t.Errorf("%d of %d damaged files of the kind %s are accepted", accepted, rounds, kind)
		}
	}
}
