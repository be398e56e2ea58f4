package tui

import (
	"errors"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/progress"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// disk is a folder in memory.
type disk struct {
	held    map[string][]byte
	recent  []string
	here    []string
	opened  []string
	saved   []string // paths written, in order
	trouble error    // of the next writes
	notices []string // of the next sheet that is loaded

	exercises []Demo
}

// lessons are for practice: what learners make is kept in a folder.
func (d *disk) lessons(folder string) Lessons {
	return Lessons{
		Exercises: d.exercises,
		Read: func(name string, data []byte) (*lesson.Exercise, error) {
			x, _, err := sheetfile.DecodeExercise(name, data)
			return x, err
		},
		HandIn: func(path string, a *lesson.Attempt) error {
			if d.trouble != nil {
				return d.trouble
			}
			d.held[path] = sheetfile.EncodeAttempt(a, nil)
			return nil
		},
		Seal:     sheetfile.Seal,
		Progress: progress.Folder(folder),
	}
}

func newDisk() *disk { return &disk{held: map[string][]byte{}} }

func (d *disk) files() Files {
	return Files{
		Load: func(path string) (*sheet.Sheet, []string, error) {
			data, ok := d.held[path]
			if !ok {
				return nil, nil, errors.New("there is no file " + path)
			}
			s, _, err := sheetfile.Decode(path, data)
			return s, d.notices, err
		},
		Save: func(path string, s *sheet.Sheet) error {
			if d.trouble != nil {
				return d.trouble
			}
			d.held[path] = sheetfile.Encode(s)
			d.saved = append(d.saved, path)
			return nil
		},
		Parse: func(name string, data []byte) (*sheet.Sheet, error) {
			s, _, err := sheetfile.Decode(name, data)
			return s, err
		},
		LoadScript: func(path string) (*lesson.Script, []string, error) {
			s, _, err := sheetfile.DecodeScript(path, d.held[path])
			return s, d.notices, err
		},
		SaveScript: func(path string, s *lesson.Script) (int, error) {
			if d.trouble != nil {
				return 0, d.trouble
			}
			d.held[path] = sheetfile.EncodeScript(s)
			d.saved = append(d.saved, path)
			back, _, err := sheetfile.DecodeScript(path, d.held[path])
			if err != nil {
				return 0, err
			}
			return len(back.Steps), nil
		},
		ParseScript: func(name string, data []byte) (*lesson.Script, []string, error) {
			s, _, err := sheetfile.DecodeScript(name, data)
			return s, nil, err
		},
		Exists: func(path string) bool { return d.held[path] != nil },
		Stamp:  func(path string) string { return string(d.held[path]) },
		Recent: func() []string { return d.recent },
		List:   func() []string { return d.here },
		Opened: func(path string) { d.opened = append(d.opened, path) },
		Card: func(s *sheet.Sheet, of, to, paper string) ([]string, error) {
			if d.trouble != nil {
				return nil, d.trouble
			}
			d.saved = append(d.saved, to+" on "+paper)
			return append([]string{to}, d.notices...), nil
		},
	}
}
