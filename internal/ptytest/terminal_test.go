package ptytest

import (
	"reflect"
	"strings"
	"testing"
)

// screen writes output to a new terminal.
func screen(cols, rows int, output string) *Terminal {
	t := NewTerminal(cols, rows)
	_, _ = t.Write([]byte(output))
	return t
}

func TestText(t *testing.T) {
	for _, c := range []struct {
		name, output, want string // on 6 by 3
	}{
		{"nothing", "", "\n\n"},
		{"lines", "one\r\ntwo", "one\ntwo\n"},
		{"a line feed stays in its column", "one\ntwo", "one\n   two\n"},
		{"return overwrites", "one\rT", "Tne\n\n"},
		{"backspace only moves", "one\b\bX\b", "oXe\n\n"},
		{"backspace stops at the margin", "\b\bX", "X\n\n"},
		{"last column does not wrap", "sixsix", "sixsix\n\n"},
		{"the rune after it does", "sixsixe", "sixsix\ne\n"},
		{"return at the margin", "sixsix\rS", "Sixsix\n\n"},
		{"line feed at the margin", "sixsix\nX", "sixsix\n     X\n"},
		{"backspace at the margin", "sixsix\bX", "sixsXx\n\n"},
		{"a move to the margin is no wrap", "sixsix\x1b[1;6HX", "sixsiX\n\n"},
		{"scroll", "1\r\n2\r\n3\r\n4", "2\n3\n4"},
		{"scroll by wrapping", "\x1b[3;1Hsixsixe", "\nsixsix\ne"},
		{"wide", "a山b", "a山b\n\n"},
		{"wide at the margin", "12345山", "12345\n山\n"},
		{"wide fits the margin", "1234山5", "1234山\n5\n"},
		{"wide loses its right half", "山\x1b[1;2HX", " X\n\n"},
		{"wide loses its left half", "山b\x1b[1;1HX", "X b\n\n"},
		{"wide on the halves of two", "山山\x1b[1;2H川", " 川\n\n"},
		{"wide erased from its right half on", "a山b\x1b[1;3H\x1b[K", "a\n\n"},
		{"wide erased up to its left half", "a山b\x1b[1;2H\x1b[1K", "   b\n\n"},
		{"combining", "Zoe\u0308!", "Zoe\u0308!\n\n"},
		{"combining at the margin", "sixsie\u0301", "sixsie\u0301\n\n"},
		{"combining on a wide rune", "か\u3099", "か\u3099\n\n"},
		{"place", "\x1b[2;3HX\x1b[3;1fY", "\n  X\nY"},
		{"home", "abc\x1b[HX\x1b[3HY\x1b[;3HZ", "XbZ\n\nY"},
		{"beyond the edge", "\x1b[99;99HX\x1b[99A\x1b[99DY", "Y\n\n     X"},
		{"up, down, right, left", "\x1b[2B\x1b[2CX\x1b[A\x1b[2DY\x1b[0BZ", "\n Y\n  Z"},
		{"column and row", "\x1b[4GX\x1b[3dY\x1b[G\x1b[dZ", "Z  X\n\n    Y"},
		{"erase to the right", "abcdef\x1b[1;3H\x1b[K", "ab\n\n"},
		{"erase to the left", "abcdef\x1b[1;3H\x1b[1K", "   def\n\n"},
		{"erase the line", "abcdef\x1b[1;3H\x1b[2KX", "  X\n\n"},
		{"erase takes the rune at the margin", "sixsix\x1b[K", "sixsi\n\n"},
		{"erase some", "abcdef\x1b[1;3H\x1b[2XX", "abX ef\n\n"},
		{"erase one", "abcdef\x1b[1;3H\x1b[X", "ab def\n\n"},
		{"erase more than there is", "abcdef\r\nX\x1b[1;3H\x1b[99X", "ab\nX\n"},
		{"erase the halves of two", "山川\x1b[1;2H\x1b[2X.", " .\n\n"},
		{"erase below", "aaa\r\nbbb\r\nccc\x1b[2;2H\x1b[J", "aaa\nb\n"},
		{"erase above", "aaa\r\nbbb\r\nccc\x1b[2;2H\x1b[1J", "\n  b\nccc"},
		{"erase all", "aaa\r\nbbb\r\nccc\x1b[2;2H\x1b[2JX", "\n X\n"},
		{"save and restore", "ab\x1b7\x1b[3;3HX\x1b8c", "abc\n\n  X"},
		{"restore what was not saved", "ab\x1b8X", "Xb\n\n"},
		{"main screen comes back", "ab\x1b[?1049hcd\x1b[?1049le", "abe\n\n"},
		{"alternate screen is empty", "ab\x1b[?1049hX", "  X\n\n"},
		{"and empty again", "\x1b[?1049habc\x1b[?1049l\x1b[?1049hX", "X\n\n"},
		{"asked for twice", "\x1b[?1049ha\x1b[?1049hb", "ab\n\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			term := screen(6, 3, c.output)
			if got := term.Text(); got != c.want {
				t.Errorf("%q shows %q, want %q", c.output, got, c.want)
			}
			wantOffences(t, term)
		})
	}
}

func TestRow(t *testing.T) {
	term := screen(6, 3, "one\r\n two ")
	for y, want := range []string{"one", " two", ""} {
		if got := term.Row(y); got != want {
			t.Errorf("row %d is %q, want %q", y, got, want)
		}
	}
}

func TestStyles(t *testing.T) {
	for sgr, want := range map[string]Cell{
		"":                 {},
		"0":                {},
		"1;3;4;7":          {Bold: true, Italic: true, Underline: true, Reverse: true},
		"2":                {Dim: true},
		"1;2;22":           {},
		"1;3;4;7;23;24;27": {Bold: true},
		"1;31;44;0":        {},
		"1;;2":             {Dim: true},
		"31":               {FG: "red"},
		"37;40":            {FG: "white", BG: "black"},
		"90;107":           {FG: "bright black", BG: "bright white"},
		"31;42;39":         {BG: "green"},
		"31;42;49":         {FG: "red"},
		"38;5;1":           {FG: "red"},
		"38;5;9;48;5;208":  {FG: "bright red", BG: "index 208"},
		"38;2;170;187;204": {FG: "#aabbcc"},
		"48;2;0;1;255;1":   {BG: "#0001ff", Bold: true},
		"38;2;1;2;3;39;4":  {Underline: true},
		"1;38;5;":          {Bold: true, FG: "black"}, // a last parameter left out is 0
	} {
		term := screen(6, 1, "\x1b["+sgr+"mX\x1b[m.")
		want.Rune = 'X'
		if got := term.Cell(0, 0); got != want {
			t.Errorf("%q: cell %+v, want %+v", sgr, got, want)
		}
		if got := term.Cell(1, 0); got != (Cell{Rune: '.'}) {
			t.Errorf("%q: after the reset %+v", sgr, got)
		}
		wantOffences(t, term)
	}
}

func TestCells(t *testing.T) {
	term := screen(6, 2, "\x1b[31;44m山e\u0301\x1b[0;42m\x1b[K")
	for x, want := range []Cell{
		{Rune: '山', FG: "red", BG: "blue"},
		{Rune: 0, FG: "red", BG: "blue"},
		{Rune: 'e', Marks: "\u0301", FG: "red", BG: "blue"},
		{Rune: ' ', BG: "green"}, // erased in the background at hand
	} {
		if got := term.Cell(x, 0); got != want {
			t.Errorf("column %d: %+v, want %+v", x, got, want)
		}
	}
	if got := term.Cell(0, 1); got != (Cell{Rune: ' '}) {
		t.Errorf("an untouched cell is %+v", got)
	}
}

func TestCursor(t *testing.T) {
	for output, want := range map[string]struct {
		x, y    int
		visible bool
	}{
		"":                               {0, 0, true},
		"ab":                             {2, 0, true},
		"山":                              {2, 0, true},
		"e\u0301":                        {1, 0, true},
		"sixsix":                         {5, 0, true}, // on the last column, not beyond it
		"sixsixe":                        {1, 1, true},
		"\x1b[2;4H\x1b[?25l":             {3, 1, false},
		"\x1b[?25l\x1b[?25h":             {0, 0, true},
		"a\x1b7b\x1b[3;3H\x1b8":          {1, 0, true},
		"ab\x1b[?1049h\x1b[Hx\x1b[?25l":  {1, 0, false},
		"ab\x1b[?1049h\x1b[H\x1b[?1049l": {2, 0, true},
	} {
		x, y, visible := screen(6, 3, output).Cursor()
		if x != want.x || y != want.y || visible != want.visible {
			t.Errorf("%q: cursor %d, %d, %v, want %+v", output, x, y, visible, want)
		}
	}
}

func TestStyleComesBackFromTheAlternateScreen(t *testing.T) {
	term := screen(6, 1, "\x1b[31m\x1b[?1049h\x1b[32m\x1b[?1049lX")
	if got := term.Cell(0, 0).FG; got != "red" {
		t.Errorf("colour %q, want red", got)
	}
}

func TestModes(t *testing.T) {
	term := screen(6, 1, "\x1b[?1049h\x1b[?2004h\x1b[?1002;1006h\x1b[?1004h\x1b[?2026h\x1b[?1000h\x1b[?1003h")
	for _, mode := range []int{25, 1000, 1002, 1003, 1004, 1006, 1049, 2004, 2026} {
		if !term.Mode(mode) {
			t.Errorf("mode %d is off", mode)
		}
	}
	if !term.AltScreen() {
		t.Error("not on the alternate screen")
	}
	_, _ = term.Write([]byte("\x1b[?2026l\x1b[?1049l\x1b[?2004l\x1b[?1002;1006l\x1b[?25l\x1b[?1000;1003;1004l"))
	for _, mode := range []int{25, 1000, 1002, 1003, 1004, 1006, 1049, 2004, 2026} {
		if term.Mode(mode) {
			t.Errorf("mode %d is on", mode)
		}
	}
	wantOffences(t, term)
}

func TestOffences(t *testing.T) {
	for _, c := range []struct {
		name, output, offence string
		text                  string // what else there is to read
	}{
		{"window title", "a\x1b]0;owned\ab", `byte 1: string for the terminal "\x1b]0;owned\a"`, "ab"},
		{"question for the background", "\x1b]11;?\x1b\\ok", `byte 0: string for the terminal "\x1b]11;?\x1b\\"`, "ok"},
		{"question for the cursor", "ab\x1b[6nc", `byte 2: control sequence "\x1b[6n"`, "abc"},
		{"question for the attributes", "\x1b[c", `byte 0: control sequence "\x1b[c"`, ""},
		{"device string", "\x1bPq1\x1b\\x", `byte 0: string for the terminal "\x1bPq1\x1b\\"`, "x"},
		{"string without an end", "a\x1b]52;c;abc", `byte 1: unfinished string "\x1b]52;c;abc"`, "a"},
		{"string broken off", "\x1b]0;t\x1b[1mX", `byte 0: unfinished string "\x1b]0;t"`, "X"},
		{"bell", "a\ab", `byte 1: control character "\a"`, "ab"},
		{"tab", "a\tb", `byte 1: control character "\t"`, "ab"},
		{"shift out", "a\x0eb", `byte 1: control character "\x0e"`, "ab"},
		{"delete", "a\x7fb", `byte 1: control character "\x7f"`, "ab"},
		{"NUL", "a\x00b", `byte 1: control character "\x00"`, "ab"},
		{"C1", "a\u009b2Jb", `byte 1: not printable "\u009b"`, "a2Jb"},
		{"direction override", "a\u202eb", `byte 1: not printable "\u202e"`, "ab"},
		{"joiner", "a\u200db", `byte 1: not printable "\u200d"`, "ab"},
		{"lone byte", "a\xffb", `byte 1: not UTF-8 "\xff"`, "ab"},
		{"rune broken off", "a\xe5b", `byte 1: not UTF-8 "\xe5"`, "ab"},
		{"rune broken off by a sequence", "é\xe5\x1b[1mb", `byte 2: not UTF-8 "\xe5"`, "éb"},
		{"mark on nothing", "\u0301a", `byte 0: combining mark with nothing before it "\u0301"`, "a"},
		{"scroll region", "\x1b[1;2r", `byte 0: control sequence "\x1b[1;2r"`, ""},
		{"insert line", "\x1b[L", `byte 0: control sequence "\x1b[L"`, ""},
		{"scrollback erased", "ab\x1b[3J", `byte 2: control sequence "\x1b[3J"`, "ab"},
		{"too many numbers", "\x1b[1;2;3H", `byte 0: control sequence "\x1b[1;2;3H"`, ""},
		{"absurd number", "\x1b[99999999C", `byte 0: control sequence "\x1b[99999999C"`, ""},
		{"not a number", "\x1b[1:2H", `byte 0: control sequence "\x1b[1:2H"`, ""},
		{"blinking", "\x1b[5mX", `byte 0: control sequence "\x1b[5m"`, "X"},
		{"colour without a number", "\x1b[38;5mX", `byte 0: control sequence "\x1b[38;5m"`, "X"},
		{"colour beyond 255", "\x1b[38;2;0;256;0mX", `byte 0: control sequence "\x1b[38;2;0;256;0m"`, "X"},
		{"colour with colons", "\x1b[38:5:1mX", `byte 0: control sequence "\x1b[38:5:1m"`, "X"},
		{"public mode", "\x1b[4h", `byte 0: control sequence "\x1b[4h"`, ""},
		{"another private mode", "\x1b[?1015h", `byte 0: control sequence "\x1b[?1015h"`, ""},
		{"no mode", "\x1b[?h", `byte 0: control sequence "\x1b[?h"`, ""},
		{"question for a mode", "\x1b[?2026$p", `byte 0: control sequence "\x1b[?2026$p"`, ""},
		{"keyboard protocol", "\x1b[>1u", `byte 0: control sequence "\x1b[>1u"`, ""},
		{"reset", "a\x1bcb", `byte 1: escape sequence "\x1bc"`, "ab"},
		{"character set", "a\x1b(0q", `byte 1: escape sequence "\x1b(0"`, "aq"},
		{"two escapes", "\x1b\x1b[1mX", `byte 0: broken escape sequence "\x1b"`, "X"},
		{"sequence within a sequence", "\x1b[1\x1b[2CX", `byte 0: broken control sequence "\x1b[1"`, "  X"},
		{"sequence with a line feed in it", "\x1b[\nX", `byte 0: broken control sequence "\x1b["`, "\nX"},
	} {
		t.Run(c.name, func(t *testing.T) {
			term := screen(6, 3, c.output)
			wantOffences(t, term, c.offence)
			if got := strings.TrimRight(term.Text(), "\n"); got != c.text {
				t.Errorf("%q shows %q, want %q", c.output, got, c.text)
			}
			if got := string(term.Raw()); got != c.output {
				t.Errorf("raw %q, want %q", got, c.output)
			}
		})
	}
}

func TestModesAreSwitchedTogetherOrNotAtAll(t *testing.T) {
	term := screen(6, 1, "\x1b[?25;1015l")
	if !term.Mode(25) {
		t.Error("an unknown mode switched the cursor off")
	}
	term = screen(6, 1, "\x1b[31;5mX")
	if got := term.Cell(0, 0).FG; got != "" {
		t.Errorf("an unknown number coloured the text %q", got)
	}
}

func TestWideRuneOnAScreenOfOneColumn(t *testing.T) {
	wantOffences(t, screen(1, 1, "山"), `byte 0: wider than the screen "\u5c71"`)
}

func TestFinishFindsWhatNeverEnded(t *testing.T) {
	term := screen(6, 1, "a\x1b[1")
	wantOffences(t, term)
	term.finish()
	term.finish()
	wantOffences(t, term, `byte 1: unfinished sequence "\x1b[1"`)
}

func TestResize(t *testing.T) {
	term := screen(6, 3, "山abcd\r\n2\r\n3")
	term.Resize(8, 2)
	if got, want := term.Text(), "山abcd\n2"; got != want {
		t.Errorf("larger: %q, want %q", got, want)
	}
	if x, y, _ := term.Cursor(); x != 1 || y != 1 {
		t.Errorf("cursor %d, %d, want 1, 1", x, y)
	}
	_, _ = term.Write([]byte("\x1b[1;8HX"))
	if got, want := term.Row(0), "山abcd X"; got != want {
		t.Errorf("the new column: %q, want %q", got, want)
	}
	term.Resize(1, 0)
	if cols, rows := term.Size(); cols != 1 || rows != 1 {
		t.Errorf("size %d, %d, want 1, 1", cols, rows)
	}
	if got := term.Cell(0, 0); got != (Cell{Rune: ' '}) {
		t.Errorf("half a wide rune is left: %+v", got)
	}
}

func TestAnswers(t *testing.T) {
	for question, want := range map[string]string{
		"ab\x1b[6n":       "\x1b[1;3R",
		"\x1b[5n":         "\x1b[0n",
		"\x1b[c":          "\x1b[?62;22c",
		"\x1b]11;?\a":     "\x1b]11;rgb:0000/0000/0000\x1b\\",
		"\x1b]10;?\x1b\\": "\x1b]10;rgb:d0d0/d0d0/d0d0\x1b\\",
		"\x1b]0;title\a":  "",
		"plain":           "",
	} {
		term := screen(6, 1, question)
		if got := string(term.takeAnswers()); got != want {
			t.Errorf("%q is answered %q, want %q", question, got, want)
		}
		if got := term.takeAnswers(); len(got) > 0 {
			t.Errorf("%q is answered again: %q", question, got)
		}
	}
}

// Whatever arrives, in whatever pieces, the terminal neither panics nor comes to another result.
func FuzzTerminal(f *testing.F) {
	f.Add([]byte("\x1b[?1049h\x1b[38;2;1;2;3ma山\u0301\x1b[2;2H\x1b[1J\x1b7\r\n\x1b8\x1b[K"), 5, 3)
	f.Add([]byte("\xe5\x1b]0;\x1b[6n\x1b\x1b(0\xff\x1b[1\x1b[J"), 1, 1)
	f.Fuzz(func(t *testing.T, output []byte, cols, rows int) {
		if cols > 200 || rows > 200 {
			return
		}
		whole, pieces := screen(cols, rows, string(output)), NewTerminal(cols, rows)
		for i := range output {
			_, _ = pieces.Write(output[i : i+1])
		}
		if whole.Text() != pieces.Text() || !reflect.DeepEqual(whole.Offences(), pieces.Offences()) {
			t.Errorf("whole %q %q, in pieces %q %q", whole.Text(), whole.Offences(), pieces.Text(), pieces.Offences())
		}
		cols, rows = whole.Size()
		for y := range rows {
			for x := range cols {
				if whole.Cell(x, y).Rune == 0 && (x == 0 || widths.RuneWidth(whole.Cell(x-1, y).Rune) != 2) {
					t.Errorf("column %d, row %d is the right half of nothing", x, y)
				}
				if widths.RuneWidth(whole.Cell(x, y).Rune) == 2 && (x == cols-1 || whole.Cell(x+1, y).Rune != 0) {
					t.Errorf("column %d, row %d has lost its right half", x, y)
				}
			}
		}
		whole.Resize(rows, cols)
	})
}

func wantOffences(t *testing.T, term *Terminal, want ...string) {
	t.Helper()
	got := term.Offences()
	if len(got) != len(want) || len(want) > 0 && !reflect.DeepEqual(got, want) {
		t.Errorf("offences %q, want %q", got, want)
	}
}
