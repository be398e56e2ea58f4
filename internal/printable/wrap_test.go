package printable

import (
	"reflect"
	"testing"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text         string
		width        int
		lead, others string
		want         []string
	}{
		{"", 10, "", "", []string{""}},
		{"one two three", 7, "", "", []string{"one two", "three"}},
		{"one two three", 9, "- ", "  ", []string{"- one two", "  three"}},
		{"abcdefghij", 4, "", " ", []string{"abcd", " efg", " hij"}},
		{"a\x1b[31mb", 10, "", "", []string{"a�[31mb"}},
		{"日本語", 4, "", "", []string{"日本", "語"}},
		{"  one two", 6, "", " ", []string{"  one", "   two"}},
		{"x", 1, "lead ", "", []string{"lead x"}}, // no room at all: it is shown all the same
		{"e\u0301e\u0301e\u0301", 2, "", "", []string{"e\u0301e\u0301", "e\u0301"}},
		{"👩\u200d👩\u200d👩", 4, "", "", []string{"👩\u200d👩", "👩"}}, // the joiner has nothing to join any more
		{"          x", 8, "", "", []string{"    x"}},
	} {
		if got := Wrap(c.text, c.width, c.lead, c.others); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%q in %d: %q, want %q", c.text, c.width, got, c.want)
		}
	}
}
