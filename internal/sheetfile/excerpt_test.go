package sheetfile

import (
	"strings"
	"testing"

	"github.com/rivo/uniseg"
)

func TestExcerpt(t *testing.T) {
	long := strings.Repeat("0123456789", 15)
	for name, c := range map[string]struct {
		source       string
		col, width   int
		line, carets string
	}{
		"plain":             {`nape = 250`, 8, 3, `nape = 250`, `       ^^^`},
		"tabs":              {"\tnape\t= 250", 9, 3, ` nape = 250`, `        ^^^`},
		"wide before":       {`"山田" = 250`, 8, 3, `"山田" = 250`, `         ^^^`},
		"wide meant":        {`x = "山田"`, 6, 2, `x = "山田"`, `     ^^^^`},
		"accents of two":    {"e\u0301e\u0301 = 7", 8, 1, "e\u0301e\u0301 = 7", `     ^`},
		"half an accent":    {"e\u0301 = 7", 2, 1, "e\u0301 = 7", `^`},
		"past the end":      {`nape =`, 7, 1, `nape =`, `      ^`},
		"far past the end":  {`nape =`, 99, 5, `nape =`, `      ^`},
		"an empty line":     {``, 1, 1, ``, `^`},
		"an escape":         {"a\x1b[2Jb = 1", 9, 1, "a\uFFFD[2Jb = 1", `        ^`},
		"heaped accents":    {"e" + strings.Repeat("\u0301", 500) + " = 7", 505, 1, "e" + strings.Repeat("\u0301", 6) + "\uFFFD = 7", `     ^`},
		"a megabyte before": {strings.Repeat("x", 1<<20) + "y", 1<<20 + 1, 1, "…" + strings.Repeat("x", 97) + "y", strings.Repeat(" ", 98) + `^`},
		"a megabyte after":  {"y" + strings.Repeat("x", 1<<20), 1, 1, "y" + strings.Repeat("x", 97) + "…", `^`},
		"cut on the right":  {long, 2, 3, long[:98] + "…", ` ^^^`},
		"cut on both sides": {long, 81, 2, "…" + long[31:129] + "…", strings.Repeat(" ", 50) + `^^`},
		"cut on the left":   {long, 150, 1, "…" + long[52:], strings.Repeat(" ", 98) + `^`},
		"wider than all":    {long, 1, 150, "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			line, carets := excerpt(c.source, c.col, c.width)
			if uniseg.StringWidth(line) > excerptCells || len(carets) > excerptCells {
				t.Errorf("%d cells over %d", uniseg.StringWidth(line), len(carets))
			}
			if c.carets == "" {
				return
			}
			if carets != c.carets || line != c.line {
				t.Errorf("\n%s|\n%s|\nwant\n%s|\n%s|", line, carets, c.line, c.carets)
			}
		})
	}
}

func TestNearest(t *testing.T) {
	keys := headSheet.keysIn["head"]
	for typed, want := range map[string]string{
		"circumfrence": "circumference", "Circumference": "circumference", "naep_width": "nape_width", "ear-to-ear": "ear_to_ear",
		"front_nape": "front_to_nape", "width": "", "x": "", "": "", strings.Repeat("nape_width", 50): "",
	} {
		if got := nearest(typed, keys); got != want {
			t.Errorf("nearest(%q) = %q, want %q", typed, got, want)
		}
	}
	for pair, want := range map[[2]string]int{{"", "abc"}: 3, {"abc", ""}: 3, {"look", "look"}: 0, {"loko", "look"}: 1, {"ä", "a"}: 1, {"brick", "rick!"}: 2} {
		if got := edits(pair[0], pair[1]); got != want {
			t.Errorf("edits(%q, %q) = %d, want %d", pair[0], pair[1], got, want)
		}
	}
}
