package sheetfile

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

func TestBadExerciseSamples(t *testing.T) {
	wantRefused(t, "bad-exercise", func(name string, data []byte) ([]Notice, error) {
		x, notices, err := DecodeExercise(name, data)
		if (x == nil) != (err != nil) {
			t.Error("there is an exercise beside the error")
		}
		return notices, err
	})
}

// The least that an exercise says: its start is its answer, what the rules find is shown, and nothing may be touched.
func TestLeastExercise(t *testing.T) {
	data := readSample(t, filepath.Join(samples, "good-exercise", "least.toml"))
	x, _, err := DecodeExercise("some/07-least.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(data), literal)
	start, _, _ := strings.Cut(rest, literal)
	s := wantSheet(t, "start.toml", []byte(start))
	if want := (&lesson.Exercise{ID: "least", Task: lesson.Place, Findings: lesson.Live, Start: s, Answer: s}); !reflect.DeepEqual(x, want) {
		t.Errorf("%+v, want %+v", x, want)
	}
}

// The name of a file may hold anything, and the ID made of it is shown.
func TestIDsAreSafe(t *testing.T) {
	if id := ExerciseID("01-ro\x1b[2Jw\u202e.toml"); !printable.Clean(id) || !strings.HasPrefix(id, "ro") {
		t.Errorf("%+q", id)
	}
}

// A hint may be about a place that its rule speaks of, or a row, or any.
func TestPlacesOfHints(t *testing.T) {
	x, _, err := DecodeExercise("x.toml", readSample(t, filepath.Join(samples, "good-exercise", "full.toml")))
	if err != nil {
		t.Fatal(err)
	}
	spot, row := sheet.Spot{At: sheet.Place{Along: true, At: -16}}, sheet.Place{At: 50}
	for i, want := range []lesson.Hint{
		{Rule: "nape", Text: "the lowest row lies {value} mm from the hairline, [[row]]"}, {Rule: "nape", Text: "there", On: &row},
		{Rule: "off-scalp", Text: "here", At: &spot}, {Text: "too light: {value}", Target: 2},
	} {
		if got := x.Hints[i]; !reflect.DeepEqual(got, want) {
			t.Errorf("hint %d is %+v, want %+v", i+1, got, want)
		}
	}
}
