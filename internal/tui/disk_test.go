package tui

import (
	"errors"

	"example.org/underveil/internal/hold"
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

	said      string                 // with the next saves
	before    map[string][]Version   // that were saved over
	elsewhere map[string]*hold.Taken // what other windows have open
	holds     map[string]int         // what is held, and how often
}

// version is a file that is saved over at noon.
func (d *disk) version(path string, data []byte) Version {
	s, _, err := sheetfile.Decode(path, data)
	return Version{At: today, Sheet: s, Err: err}
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

func newDisk() *disk {
	return &disk{held: map[string][]byte{}, before: map[string][]Version{}, elsewhere: map[string]*hold.Taken{}, holds: map[string]int{}}
}

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
		Save: func(path string, s *sheet.Sheet) (string, string, error) {
			if d.trouble != nil {
				return "", "", d.trouble
			}
			if old := d.held[path]; old != nil {
				d.before[path] = append([]Version{d.version(path, old)}, d.before[path]...)
			}
			d.held[path] = sheetfile.Encode(s)
			d.saved = append(d.saved, path)
			return d.said, string(d.held[path]), nil
		},
		Before: func(path string) []Version { return d.before[path] },
		Hold: func(path string) (func(), error) {
			if d.elsewhere[path] != nil {
				return nil, d.elsewhere[path]
			}
			d.holds[path]++
			return func() { d.holds[path]-- }, nil
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
