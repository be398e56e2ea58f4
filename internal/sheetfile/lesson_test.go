package sheetfile

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
)

// wantRefused asserts that each sample of a folder is refused with the message beside it, at a place in it, and that no message is left
// over.
func wantRefused(t *testing.T, folder string, decode func(name string, data []byte) ([]Notice, error)) {
	t.Helper()
	paths := sampleFiles(t, folder)
	for _, path := range paths {
		name := filepath.Base(path)
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			data := readSample(t, path)
			notices, err := decode(name, data)
			if err == nil {
				t.Fatal("the sample is accepted")
			}
			if notices != nil {
				t.Error("there is a notice beside the error")
			}
			wantSafeError(t, err)
			if isText(data) {
				wantPlaces(t, err)
				wantSources(t, data, err)
			}
			wantGolden(t, strings.TrimSuffix(path, ".toml")+".txt", err.Error()+"\n")
		})
	}
	golden, err := filepath.Glob(filepath.Join(samples, folder, "*.txt"))
	if err != nil || len(golden) != len(paths) {
		t.Errorf("%d messages for %d samples (%v)", len(golden), len(paths), err)
	}
}

// wantSources asserts that each error shows the line of the file that it is about, with what is meant within it.
func wantSources(t *testing.T, data []byte, err error) {
	t.Helper()
	lines := strings.Split(string(bytes.TrimPrefix(data, []byte("\ufeff"))), "\n")
	for _, e := range err.(Errors) {
		if e.Line > len(lines) {
			t.Errorf("line %d of %d: %s", e.Line, len(lines), e.Problem)
			continue
		}
		if want := printable.Line(strings.TrimSuffix(lines[e.Line-1], "\r")); e.Source != want {
			t.Errorf("line %d is shown as %q, and is %q", e.Line, e.Source, want)
		}
		if n := len([]rune(e.Source)); e.Col+e.Width-1 > n+1 {
			t.Errorf("line %d has %d characters, and %d to %d are meant", e.Line, n, e.Col, e.Col+e.Width-1)
		}
	}
}

// lessonFile is a kind of file that has sheets in it, as tests read and write it.
type lessonFile struct {
	schema *schema
	key    string // that tells the kind
	again  func(name string, data []byte) (written []byte, texts []string, notices []Notice, err error)
	load   func(path string) error
}

var lessonFiles = map[string]lessonFile{
	"demonstration": {&scriptFile, "demonstration", func(name string, data []byte) ([]byte, []string, []Notice, error) {
		s, notices, err := DecodeScript(name, data)
		if err != nil {
			return nil, nil, notices, err
		}
		return EncodeScript(s), append(stepTexts(s.Steps), s.Title, s.About, s.Say), notices, nil
	}, func(path string) error { _, _, err := LoadScript(path); return err }},
	"exercise": {&exerciseFile, "exercise", func(name string, data []byte) ([]byte, []string, []Notice, error) {
		x, notices, err := DecodeExercise(name, data)
		if err != nil {
			return nil, nil, notices, err
		}
		texts := []string{x.ID, x.Title, x.Brief, x.Who, x.Ending}
		for _, h := range x.Hints {
			texts = append(texts, h.Text)
		}
		return EncodeExercise(x), texts, notices, nil
	}, func(path string) error { _, _, err := LoadExercise(path); return err }},
	"attempt": {&attemptFile, "attempt", func(name string, data []byte) ([]byte, []string, []Notice, error) {
		a, notices, err := DecodeAttempt(name, data)
		if err != nil {
			return nil, nil, notices, err
		}
		start := a.Sheet // for want of another
		if kept, _, err := DecodeProgress(name, data, start); err == nil {
			a = kept
		}
		return EncodeAttempt(a, start), append(stepTexts(a.Steps), a.Exercise, a.Learner, a.Assessor, a.Seal), notices, nil
	}, func(path string) error { _, _, err := LoadAttempt(path); return err }},
}

func stepTexts(steps []lesson.Step) (texts []string) {
	for _, s := range steps {
		texts = append(texts, s.Did, s.Say)
	}
	return texts
}

// However a lesson is written, it is the same lesson: each sample called otherwise says what the one of its name says, and that is
// written as it stands.
func TestHandEditedLessons(t *testing.T) {
	for kind, file := range lessonFiles {
		written := 0
		for _, path := range sampleFiles(t, "good-"+kind) {
			canonical, is := strings.CutSuffix(path, "-otherwise.toml")
			if !is {
				continue
			}
			written++
			want := readSample(t, canonical+".toml")
			for edit, data := range asSaved(readSample(t, path)) {
				wantWritten(t, path+edit, file, data, want)
			}
			for edit, data := range asSaved(want) {
				wantWritten(t, canonical+edit, file, data, want)
			}
		}
		if written == 0 {
			t.Errorf("no %s is otherwise written", kind)
		}
	}
}

func wantWritten(t *testing.T, name string, file lessonFile, data, want []byte) {
	t.Helper()
	got, _, notices, err := file.again(name, data)
	if err != nil || len(notices) > 0 {
		t.Errorf("%s: %v, notices %v", name, err, notices)
	} else if !bytes.Equal(got, want) {
		t.Errorf("%s:\n%s", name, diff(string(want), string(got)))
	}
}

// What comes with the program is right as it is, and can be read again.
func TestLessonsOfTheProgram(t *testing.T) {
	for folder, files := range map[string]fs.FS{"rules": assets.Rules, "exercises": assets.Exercises} {
		kind := lessonFiles[map[string]string{"rules": "demonstration", "exercises": "exercise"}[folder]]
		paths, err := fs.Glob(files, folder+"/*.toml")
		if err != nil || len(paths) == 0 {
			t.Fatal(paths, err)
		}
		for _, path := range paths {
			data, err := fs.ReadFile(files, path)
			if err != nil {
				t.Fatal(err)
			}
			once, _, notices, err := kind.again(path, data)
			if err != nil || len(notices) > 0 {
				t.Errorf("%s: %v, notices %v", path, err, notices)
				continue
			}
			wantWritten(t, path, kind, once, once)
		}
	}
}

// Every key of a lesson has an example, and the samples have every key.
func TestEveryKeyOfALessonIsShown(t *testing.T) {
	for kind, file := range lessonFiles {
		text := "\n"
		for _, path := range sampleFiles(t, "good-"+kind) {
			if !strings.HasSuffix(path, "-otherwise.toml") {
				text += string(readSample(t, path))
			}
		}
		wantKeys(t, file.schema, text)
	}
	wantKeys(t, &limitsFile, "\n"+string(readSample(t, filepath.Join(samples, "good-limits", "full.toml"))))
}

func wantKeys(t *testing.T, s *schema, text string) {
	t.Helper()
	for table, keys := range s.keysIn {
		if _, ok := s.tableAt(root.key(table)); table != "" && !ok {
			t.Errorf("%s: there is no table %s at the top", s.called, table)
		}
		for _, key := range keys {
			if s.value(table, key) == "" && !s.isTable(key) {
				t.Errorf("%s: there is no example of %s in %s", s.called, key, s.heading(table))
			}
			if table != "limits" && !strings.Contains(inTable(text, s.heading(table), table), "\n"+key+" = ") && !strings.Contains(text, "\n"+s.heading(key)) {
				t.Errorf("no %s has %s in %s", s.called, key, s.heading(table))
			}
		}
		for other, key := range s.otherwise[table] {
			if slices.Contains(keys, other) || !slices.Contains(keys, key) {
				t.Errorf("%s: %s is called %s in %s", s.called, key, other, s.heading(table))
			}
		}
	}
	for table := range s.most {
		if !s.isTable(table) {
			t.Errorf("%s: there is no table %s", s.called, table)
		}
	}
}

// inTable is what stands in the tables of a name.
func inTable(text, heading, table string) string {
	if table == "" {
		return text
	}
	found := ""
	for _, part := range strings.Split(text, "\n"+heading+"\n")[1:] {
		part, _, _ = strings.Cut("\n"+part, "\n[")
		found += part
	}
	return found
}

// A file of another kind than is asked for is said to be that.
func TestEveryOtherKindIsNamed(t *testing.T) {
	read := func(folder, name string) []byte { return readSample(t, filepath.Join(samples, folder, name)) }
	limits := func(data []byte) error { _, _, err := DecodeLimits("x.toml", data); return err }
	lessons := func(kind string) func(data []byte) error {
		return func(data []byte) error { _, _, _, err := lessonFiles[kind].again("x.toml", data); return err }
	}
	kinds := []struct {
		called, not string
		data        []byte
		decode      func(data []byte) error
	}{
		{"a head sheet", "a head sheet", read("good", "full.toml"), func(data []byte) error { _, _, err := Decode("x.toml", data); return err }},
		{"a studio file", "a studio file", read("good-studio", "full.toml"), func(data []byte) error { _, _, err := DecodeStudio("x.toml", data); return err }},
		{"a demonstration", "a demonstration", read("good-demonstration", "full.toml"), lessons("demonstration")},
		{"an exercise", "an exercise", read("good-exercise", "full.toml"), lessons("exercise")},
		{"an attempt at an exercise", "an attempt", read("good-attempt", "full.toml"), lessons("attempt")},
		{"a file of limits", "a file of limits", read("good-limits", "full.toml"), limits},
	}
	for _, asked := range kinds {
		for _, given := range kinds {
			err := asked.decode(given.data)
			if given.called == asked.called || asked.not == "an attempt" && given.called == "a head sheet" { // as one is handed in, too
				if err != nil {
					t.Errorf("%s for %s: %v", given.called, asked.called, err)
				}
				continue
			}
			want := "this is " + given.called + ", not " + asked.not
			if err == nil || len(err.(Errors)) != 1 || err.(Errors)[0].Problem != want {
				t.Errorf("%s for %s: error %v, want %q", given.called, asked.called, err, want)
			}
		}
	}
}

// What the system has to say is said of the kind that was asked for.
func TestLoadLessons(t *testing.T) {
	folder := t.TempDir()
	for kind, file := range lessonFiles {
		if err := file.load(filepath.Join(folder, "gone.toml")); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: error %v", kind, err)
		}
		if err := file.load(folder); err == nil || !strings.Contains(err.Error(), "give the name of "+theKind(kind)+" in it") {
			t.Errorf("%s: error %v", kind, err)
		}
		path := filepath.Join(folder, kind+".toml")
		if err := os.WriteFile(path, readSample(t, filepath.Join(samples, "good-"+kind, "full.toml")), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := file.load(path); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := file.load(path); err == nil || !strings.Contains(err.Error(), "the file is empty; "+file.schema.naming) {
			t.Errorf("%s: error %v", kind, err)
		}
	}
}

// Text that could harm a terminal is made safe, wherever in a lesson it stands, with a notice at its line.
func TestDamagedTextOfALessonBecomesSafe(t *testing.T) {
	const one, more = ": 1 character that cannot be shown was replaced", ": 2 characters that cannot be shown were replaced"
	for kind, want := range map[string][]Notice{
		"demonstration": {{2, "demonstration" + one}, {3, "about" + more}, {4, "say" + one},
			{9, "title" + one}, {10, "notes" + one}, {20, "did: line breaks and tabs became blanks"}, {21, "say" + more},
			{29, "why" + one}, {34, "client" + more}},
		"exercise": {{2, "exercise" + one}, {4, "brief" + one}, {5, "who" + one}, {6, "ending" + one},
			{16, "title: line breaks and tabs became blanks"}, {27, "title" + one}, {10, "text" + more}},
		"attempt": {{2, "attempt" + one}, {3, "learner" + one}, {4, "assessor" + one}, {5, "seal" + one}, {10, "title" + one}},
	} {
		file := lessonFiles[kind]
		data := readSample(t, filepath.Join(samples, "good-"+kind, "hostile.toml"))
		for edit, data := range asSaved(data) {
			written, texts, notices, err := file.again("hostile.toml", data)
			if err != nil {
				t.Fatalf("%s%s: %v", kind, edit, err)
			}
			if !slices.Equal(notices, want) {
				t.Errorf("%s%s: notices\n%v, want\n%v", kind, edit, notices, want)
			}
			for _, text := range texts {
				for _, line := range strings.Split(text, "\n") {
					if !printable.Clean(line) {
						t.Errorf("%s%s: %+q is not safe to show", kind, edit, line)
					}
				}
			}
			wantWritten(t, kind+edit, file, written, written)
		}
	}
}
