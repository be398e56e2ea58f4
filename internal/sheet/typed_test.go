package sheet_test

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"example.org/underveil/internal/sheet"
)

// notTyped are the texts of a sheet that nobody types freely, by where they stand.
var notTyped = []string{"Date", "Today", "Hair.Density", "Hair.Texture", "Asked.PatchTest", "Asked.Agreed", "Shades.Texture",
	"Accepted.Date", "Accepted.Concern.Rule", "Accepted.Concern.About", "Visits.Date"}

// TestTyped puts a text of its own into every string of a sheet: Typed has all but those that nobody types.
func TestTyped(t *testing.T) {
	s := &sheet.Sheet{}
	put := map[string]string{}
	fill(reflect.ValueOf(s).Elem(), "", put)
	typed := s.Typed()
	for where, text := range put {
		if got, want := slices.Contains(typed, text), !slices.Contains(notTyped, where); got != want {
			t.Errorf("%s: among what is typed %v, want %v", where, got, want)
		}
	}
	if len(put) < 15 {
		t.Errorf("only %d texts were found", len(put))
	}
}

// fill puts a text into every string below a value, with one element in every slice of structures.
func fill(v reflect.Value, where string, put map[string]string) {
	switch {
	case v.Kind() == reflect.String && v.Type() == reflect.TypeFor[string]() && v.CanSet():
		text := fmt.Sprintf("text %d", len(put))
		v.SetString(text)
		put[where] = text
	case v.Kind() == reflect.Struct:
		if where == "Tried" { // a learner's, of rules and slots
			return
		}
		for i := range v.NumField() {
			name := v.Type().Field(i).Name
			if where != "" {
				name = where + "." + name
			}
			fill(v.Field(i), name, put)
		}
	case v.Kind() == reflect.Slice && v.CanSet() && v.Type().Elem().Kind() == reflect.Struct:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0), where, put)
	}
}
