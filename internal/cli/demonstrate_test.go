package cli

import (
	"bytes"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// Every demonstration that comes with the program is read without a notice, is written again as it is, has a caption to each step that a
// room can read in a glance, and shows something at each step.
func TestShippedDemonstrations(t *testing.T) {
	list, err := demonstrations()
	if err != nil || len(list) == 0 {
		t.Fatalf("%d demonstrations, %v", len(list), err)
	}
	p := &program{stdout: io.Discard, todayIs: "2026-04-07"}
	for _, d := range list {
		script, told, err := parseScript(d.Name, d.Data)
		if err != nil || len(told) > 0 {
			t.Errorf("%s: %v %v", d.Name, err, told)
			continue
		}
		if _, rest, _ := strings.Cut(string(d.Data), "\n"); rest != string(sheetfile.EncodeScript(script)) {
			t.Errorf("%s is not as it would be written; the first line says what it shows", d.Name)
		}
		if n := len(script.Steps); n < 5 || n > 9 || script.Say == "" || script.About == "" || d.About == "" {
			t.Errorf("%s: %d steps, or nothing said about it", d.Name, n)
		}
		before, err := p.reportOf(script.Start)
		if err != nil {
			t.Fatal(err)
		}
		for i, step := range script.Steps {
			if lines := printable.Wrap(step.Say, 78, "", ""); step.Say == "" || len(lines) > 3 || strings.ContainsAny(step.Say, "\u2014\u2013") {
				t.Errorf("%s, step %d: the caption has %d lines: %q", d.Name, i+1, len(lines), step.Say)
			}
			after, err := p.reportOf(step.Sheet)
			if err != nil {
				t.Fatal(err)
			}
			if step.Look == nil && len(lesson.Between(before, after)) == 0 {
				t.Errorf("%s, step %d: there is nothing to look at", d.Name, i+1)
			}
			before = after
		}
	}
}

// Of a recording that is too long for a file the last steps are kept as they are, and what is written can be read.
func TestLongRecordingKeepsItsEnd(t *testing.T) {
	list, err := demonstrations()
	if err != nil {
		t.Fatal(err)
	}
	script, _, err := parseScript(list[0].Name, list[0].Data)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "long.toml")
	if n, err := saveScript(path, script); err != nil || n != len(script.Steps) {
		t.Fatalf("%d of %d steps, %v", n, len(script.Steps), err)
	}
	short := script.Steps
	for len(script.Steps) < 400 {
		step := short[len(script.Steps)%len(short)]
		step.Sheet = step.Sheet.With(func(c *sheet.Sheet) { c.Notes = strings.Repeat("written down at length. ", 200+len(script.Steps)%3) })
		script.Steps = append(script.Steps, step)
	}
	n, err := saveScript(path, script)
	if err != nil || n < 2 || n >= len(script.Steps) {
		t.Fatalf("%d of %d steps, %v", n, len(script.Steps), err)
	}
	back, _, err := loadScript(path)
	if err != nil || len(back.Steps) != n {
		t.Fatalf("%v", err)
	}
	for i := 0; i < n; i++ {
		if !bytes.Equal(sheetfile.Encode(back.At(n-i)), sheetfile.Encode(script.At(len(script.Steps)-i))) {
			t.Fatalf("the step %d before the last is another sheet", i)
		}
	}
}
