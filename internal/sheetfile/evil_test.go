package sheetfile

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/settings"
	"example.org/underveil/internal/sheet"
)

// Each file of testdata/evil goes through the decoder of every kind of file. Whatever comes of it is safe, within its bounds, and the
// same when it is written and read again; whatever is refused is refused safely, with its place.
func TestEvilFilesDecoded(t *testing.T) {
	files, err := filepath.Glob("../../testdata/evil/*/*")
	if err != nil || len(files) < 60 {
		t.Fatalf("%d files: %v", len(files), err)
	}
	taken := map[string]int{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(strings.TrimPrefix(filepath.ToSlash(file), "../../testdata/evil/"), func(t *testing.T) {
			if checkDecode(t, data) {
				taken["sheet"]++
			}
			for kind, of := range lessonFiles {
				if checkLesson(t, of, data) {
					taken[kind]++
				}
			}
			if s, _, err := DecodeStudio("any\x1b.toml", data); err != nil {
				wantSafeError(t, err)
			} else {
				wantSafeStudio(t, s)
				wantBounds(t, s)
				taken["studio"]++
			}
			if of, _, err := DecodeLimits("any\x1b.toml", data); err != nil {
				wantSafeError(t, err)
			} else {
				wantOneLine(t, of)
				taken["limits"]++
			}
			if _, err := DecodeSettings("any\x1b.toml", data, []settings.Command{{ID: "undo"}, {ID: "place"}}); err != nil {
				wantSafeError(t, err)
			}
		})
	}
	for _, kind := range []string{"sheet", "studio", "limits", "exercise", "demonstration", "attempt"} {
		if taken[kind] == 0 {
			t.Errorf("no evil %s can be read, so nothing of what is in one is tried", kind)
		}
	}
}

// wantOneLine fails unless a text is one line with nothing in it that a terminal would obey or nobody could see.
func wantOneLine(t *testing.T, text string) {
	t.Helper()
	for at, r := range text {
		if !unicode.IsGraphic(r) && r != '\u200c' && r != '\u200d' || r == utf8.RuneError && !strings.HasPrefix(text[at:], "\uFFFD") {
			t.Errorf("%+q holds %U", text, r)
		}
	}
}

// evilPlain is a sheet that is as it should be.
func evilPlain() *sheet.Sheet {
	return sheet.New(scalp.Sizes[1].Measures).With(func(c *sheet.Sheet) { c.Title = "plain" })
}

// What is too deep, too long or too many is refused before the TOML reader goes down into it, however much of it there is; just short of
// that it is read.
func TestBoundsOfTheText(t *testing.T) {
	plain := string(Encode(evilPlain()))
	nested := func(n int) string { return "x = " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n" + plain }
	tables := func(n int) string {
		return "x = " + strings.Repeat("{a = ", n) + "1" + strings.Repeat("}", n) + "\n" + plain
	}
	dots := func(n int) string { return strings.Repeat("x.", n-1) + "x = 1\n" + plain }
	key := func(n int) string { return strings.Repeat("x", n) + " = 1\n" + plain }
	title := func(n int) string {
		return strings.Replace(plain, `title = "plain"`, `title = "`+strings.Repeat("é", n)+`"`, 1)
	}
	notes := func(n int) string {
		return strings.Replace(plain, "\nhole_spacing", "\nnotes = \"\"\""+strings.Repeat("é\n", n/2)+"\"\"\"\nhole_spacing", 1)
	}
	items := func(n int) string { return "x = [" + strings.Repeat("1,", n) + "]\n" + plain }
	for _, c := range []struct {
		name       string
		text       func(int) string
		most, much int
		words      string
	}{
		{"lists in lists", nested, maxDepth, 400000, "far too many brackets in one another"},
		{"tables in tables", tables, maxDepth - 1, 150000, "far too many brackets in one another"},
		{"parts of a key", dots, maxParts, 400000, "far too many dots"},
		{"bytes of a key", key, maxKey, 900000, "this key is far too long"},
		{"characters of a title", title, longestText, 400000, "are kept"},
		{"characters of notes", notes, longestNotes, 300000, "are kept"},
		{"things in all", items, 19900, 400000, "far more here"},
	} {
		refused := func(n int) bool {
			_, _, err := Decode("x.toml", []byte(c.text(n)))
			return err != nil && strings.Contains(err.Error(), c.words)
		}
		if refused(c.most) {
			t.Errorf("%s: %d are refused", c.name, c.most)
		}
		over := c.most + 1
		if c.name == "things in all" {
			over = maxItems + 1
		}
		if c.name == "characters of notes" {
			over = c.most + 2
		}
		if !refused(over) || !refused(c.much) {
			t.Errorf("%s: %d or %d are taken", c.name, over, c.much)
		}
	}
}

// Reading a file of the longest that there may be takes memory in proportion to the file, whatever is in it.
func TestMemoryOfReading(t *testing.T) {
	full := func(piece string) string { return strings.Repeat(piece, MaxSize/len(piece)) }
	plain := string(Encode(evilPlain()))
	for name, text := range map[string]string{
		"brackets": full("["), "lists": "a=" + full("[")[2:], "tables": "a=" + full("{a=")[3:], "dots": full("a."), "quotes": full(`"`), "numbers": "a=[" + full("1,")[4:] + "]",
		"rows": (plain + full("[[row]]\n"))[:MaxSize], "keys": (plain + full("a.b.c.d.e.f.g.h=1\n"))[:MaxSize], "remarks": (plain + full("#\n"))[:MaxSize],
		"escapes": ("title=\"" + full(`\u001b`))[:MaxSize-1] + `"`, "lines": full("\n"), "blocks": (plain + full("x='''\n'''\n"))[:MaxSize], "dirty": (plain + full("[[keep_off]]\nwhy=\"\\u202e\"\n"))[:MaxSize],
		"marks": (plain + "x = \"" + full("\u0301"))[:MaxSize-2] + `"`, "errors": (plain + full("[hair]\nx=1\n"))[:MaxSize],
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, _, err := Decode("x.toml", []byte(text))
		if err != nil {
			_ = err.Error()
		}
		runtime.ReadMemStats(&after)
		if took := after.TotalAlloc - before.TotalAlloc; took > 64*MaxSize {
			t.Errorf("%s: %d MB of memory for a file of 1 MB", name, took>>20)
		} else if testing.Verbose() {
			fmt.Printf("%s: %.1f MB\n", name, float64(took)/(1<<20))
		}
	}
}
