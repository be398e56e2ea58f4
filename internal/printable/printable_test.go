package printable

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/quick"
	"unicode"
	"unicode/utf8"
)

// hostile holds what a sheet or a file name has been seen to carry into a terminal. TOML decodes the escapes of the
// first two without a word, and lets the raw C1 and direction marks through.
var hostile = []struct{ name, in, want string }{
	{"colour by \\u001b", "a\x1b[31mb", "a\uFFFD[31mb"},
	{"window title by \\e", "\x1b]0;owned\x07", "\uFFFD]0;owned\uFFFD"},
	{"clipboard by OSC 52", "\x1b]52;c;cm0gLXJm\x1b\\", "\uFFFD]52;c;cm0gLXJm\uFFFD\\"},
	{"raw C1 introducer", "a\u009b2Jb", "a\uFFFD2Jb"},
	{"direction override", "hair\u202egnp.exe", "hair\uFFFDgnp.exe"},
	{"raw NUL and DEL", "a\x00b\x7fc", "a\uFFFDb\uFFFDc"},
	{"not UTF-8", "a\xff\xc3(b\x9b", "a\uFFFD\uFFFD(b\uFFFD"},
	{"shift out garbles a session", "a\x0eb\x0fc", "a\uFFFDb\uFFFDc"},

	{"lone carriage return overwrites", "8 g\r80 g", "8 g\uFFFD80 g"},
	{"line and paragraph separators", "a\u2028b\u2029c", "a\uFFFDb\uFFFDc"},
	{"joiner and byte order mark", "\uFEFFa\u200Db", "\uFFFDa\uFFFDb"},
	{"joiner at an end", "\u200Dé\u200C", "\uFFFDé\uFFFD"},
	{"joiners in a row", "می\u200C\u200Cخ", "می\uFFFD\uFFFDخ"},
	{"joiner beside a blank or a digit", "é\u200D é\u200D٣", "é\uFFFD é\uFFFD٣"},
	{"joiner beside what is replaced", "é\u200D\u202eé\xff\u200Dé\uFFFD\u200Dé", "é\uFFFD\uFFFDé\uFFFD\uFFFDé\uFFFD\uFFFDé"},
	{"soft hyphen and isolates", "a\u00ADb\u2066c\u2069", "a\uFFFDb\uFFFDc\uFFFD"},
	{"tag characters", "a\U000E0041b", "a\uFFFDb"},
	{"private use and unassigned", "a\uE000b\U0010FFFFc\u0378d", "a\uFFFDb\uFFFDc\uFFFDd"},
	{"surrogate half in UTF-8 form", "a\xed\xa0\x80b", "a\uFFFD\uFFFD\uFFFDb"},
	{"next line (C1)", "a\u0085b", "a\uFFFDb"},

	{"marks heaped on a letter", "e" + strings.Repeat("\u0301", 9) + "x", "e" + strings.Repeat("\u0301", 6) + "\uFFFD\uFFFD\uFFFDx"},
	{"marks of other scripts, heaped", "\u0e01" + strings.Repeat("\u0e34\u0e49", 4), "\u0e01" + strings.Repeat("\u0e34\u0e49", 3) + "\uFFFD\uFFFD"},
	{"marks on nothing", "\u0301a \u0308b", "\uFFFDa \uFFFDb"},
	{"joiners between heaped marks", "\u0915" + strings.Repeat("\u094d\u200d", 4) + "\u0937", "\u0915" + strings.Repeat("\u094d\u200d", 2) + "\u094d\uFFFD\uFFFD\uFFFD\u0937"},
	{"bytes as variation selectors", "a\U000E0172😊\uFE0F\U000E0172\U000E0161", "a\uFFFD😊\uFE0F\uFFFD\uFFFD"},
	{"variation selector on what is replaced", "\u202e\uFE0F", "\uFFFD\uFFFD"},
	{"letters that nobody sees", "\u3164\u115Fa\u034F\uFFA0", "\uFFFD\uFFFDa\uFFFD\uFFFD"},
}

func TestLineMarksWhatATerminalWouldObey(t *testing.T) {
	for _, c := range hostile {
		t.Run(c.name, func(t *testing.T) {
			if got := Line(c.in); got != c.want {
				t.Errorf("Line(%q) = %q, want %q", c.in, got, c.want)
			}
			if Clean(c.in) {
				t.Errorf("Clean(%q) = true", c.in)
			}
		})
	}
}

func TestLineMakesOneLine(t *testing.T) {
	for in, want := range map[string]string{
		"two\nlines":       "two lines",
		"two\r\nlines":     "two lines",
		"a\tb":             "a b",
		"end\n":            "end ",
		"\n\n":             "  ",
		"odd\r\r\nending":  "odd\uFFFD ending",
		"\tnarrow\r\nveil": " narrow veil",
	} {
		if got := Line(in); got != want {
			t.Errorf("Line(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestLineLeavesNamesAlone(t *testing.T) {
	for _, s := range []string{
		"", " ", "Zoë Ługowska", "Zoe\u0308", "Мария", "Ελένη", "שלום", "مرحبا", "山田 花子", "姓\u3000名", "no\u00A0break",
		"می\u200Cخواهم", "ශ්\u200Dරී", "👩🏽\u200D🦱", "👁\uFE0F\u200D🗨\uFE0F", "💇🏽", `C:\sheets\"nape".toml`, "already marked \uFFFD", "ⅧⅣ — ±12 mm ≤ 3 €",
		"Nguyễn Thị", "Nguye\u0302\u0303n", "שּֽׁ֑", "ที่นี่", "हिन्दी", "1\uFE0F\u20E3", "葛\U000E0100城", "\u1112\u1161\u11ab", "각", "e\u0301\u0302\u0303\u0304\u0305\u0306",
	} {
		if got := Line(s); got != s {
			t.Errorf("Line(%q) = %q, want it unchanged", s, got)
		}
		if !Clean(s) {
			t.Errorf("Clean(%q) = false", s)
		}
	}
}

func TestLineAllocatesNothingForCleanText(t *testing.T) {
	for _, s := range []string{"row 4, nape, 18 in", "Zoë Ługowska"} {
		if n := testing.AllocsPerRun(100, func() { Line(s) }); n != 0 {
			t.Errorf("Line(%q) allocates %v times", s, n)
		}
	}
}

func TestQuote(t *testing.T) {
	sixty := strings.Repeat("ä", 60)
	for in, want := range map[string]string{
		"":                                   `""`,
		"nape":                               `"nape"`,
		`say "nape"`:                         `"say "nape""`,
		"a\x1b[2J\nb":                        "\"a\uFFFD[2J b\"",
		sixty:                                `"` + sixty + `"`,
		sixty + "x":                          `"` + strings.Repeat("ä", 59) + `…"`,
		strings.Repeat("é", 58) + "\u200Déé": `"` + strings.Repeat("é", 58) + `…"`,
		sixty[:119] + "\xff":                 `"` + strings.Repeat("ä", 59) + "…\"", // a byte that is not UTF-8 counts as one rune
	} {
		if got := Quote(in); got != want {
			t.Errorf("Quote(%q) = %q, want %q", in, got, want)
		}
	}
}

// checkLine states what must hold for any text whatever.
func checkLine(t *testing.T, s string) {
	t.Helper()
	line := Line(s)
	if !utf8.ValidString(line) {
		t.Errorf("Line(%q) = %q is not UTF-8", s, line)
	}
	runes := []rune(line)
	for i, r := range runes {
		if (r == '\u200C' || r == '\u200D') && i > 0 && i+1 < len(runes) && joinable(runes[i-1]) && joinable(runes[i+1]) {
			continue
		}
		if unicode.In(r, unicode.C, unicode.Zl, unicode.Zp) || unicode.IsControl(r) || !unicode.IsGraphic(r) {
			t.Errorf("Line(%q) = %q still holds %U", s, line, r)
		}
	}
	if err := heaped(line); err != nil {
		t.Errorf("Line(%q) = %q: %v", s, line, err)
	}
	if n := utf8.RuneCountInString(strings.ReplaceAll(s, "\r\n", "\n")); len(runes) != n {
		t.Errorf("Line(%q) = %q has %d runes, want %d", s, line, len(runes), n)
	}
	wantWrapped(t, s)
	for i, r := range line {
		if !Shows(line, i) {
			t.Errorf("Line(%q) = %q, but %U does not show", s, line, r)
		}
	}
	if again := Line(line); again != line {
		t.Errorf("Line(Line(%q)) = %q, want %q", s, again, line)
	}
	if Clean(s) != (line == s) {
		t.Errorf("Clean(%q) = %v, but Line gives %q", s, Clean(s), line)
	}
	if quoted := Quote(s); !Clean(quoted) || utf8.RuneCountInString(quoted) > quoteRunes+2 {
		t.Errorf("Quote(%q) = %q is not clean or too long", s, quoted)
	}
}

// heaped says where runes that take no cell are heaped on one that does, or stand on nothing.
func heaped(line string) error {
	n, on := 0, ' '
	for at, r := range line {
		if !unicode.In(r, unicode.Mn, unicode.Me) && r != '\u200C' && r != '\u200D' {
			n, on = 0, r
			continue
		}
		if n++; n > 6 || unicode.IsSpace(on) {
			return fmt.Errorf("byte %d is mark %d on %q", at, n, on)
		}
	}
	return nil
}

// wantWrapped holds the lines of a text against the text: each has room, and together they are all of it but its blanks.
func wantWrapped(t *testing.T, s string) {
	t.Helper()
	for _, width := range []int{1, 7, 40} {
		all := ""
		for _, line := range Wrap(s, width, "", "") {
			if !Clean(line) {
				t.Errorf("Wrap(%q) has a line %q, which is not clean", s, line)
			}
			if w := Width(line); w > max(width, 2) { // one wide rune is shown all the same
				t.Errorf("Wrap(%q, %d) has a line of %d cells: %q", s, width, w, line)
			}
			all += line
		}
		bare := func(s string) string {
			return strings.NewReplacer("\u200C", "", "\u200D", "").Replace(strings.Join(strings.Fields(s), ""))
		}
		if bare(all) != bare(Line(s)) {
			t.Errorf("Wrap(%q, %d) makes %q of it", s, width, all)
		}
	}
}

// joinable is what a joiner may stand beside.
func joinable(r rune) bool { return r >= 0x80 && unicode.In(r, unicode.L, unicode.M, unicode.S) }

func TestLineProperties(t *testing.T) {
	for _, c := range hostile {
		checkLine(t, c.in)
	}
	random := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		checkLine(t, randomText(random))
	}
	// The strings of testing/quick come from every plane of Unicode.
	if err := quick.Check(func(s string) bool { checkLine(t, s); return !t.Failed() }, nil); err != nil {
		t.Error(err)
	}
}

// Every code point there is, so that no corner of Unicode is left to luck.
func TestLineOverAllOfUnicode(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		line := Line(string(r))
		if got, _ := utf8.DecodeRuneInString(line); !unicode.IsGraphic(got) {
			t.Fatalf("Line(%U) = %q", r, line)
		}
	}
}

// randomText mixes raw bytes with the code points that matter, so that sequences are broken in every place.
func randomText(random *rand.Rand) string {
	corners := []string{"\x1b", "\u009b", "\u202e", "\u200d", "\u200c", "🦱", "\uFE0F", "\ufeff", "\r", "\n", "\r\n", "\t", "\xc3", "\xe2\x80", "é", "山", " ", "a", "\uFFFD",
		"\u0301", "\u0e34", "\u05b0", "\u0489", "\U000E0100", "\u034f", "\u3164", "\u1161", "\u00a0", "\u0301\u0302\u0303"}
	var text strings.Builder
	for range random.IntN(90) {
		if random.IntN(3) == 0 {
			text.WriteByte(byte(random.IntN(256)))
			continue
		}
		text.WriteString(corners[random.IntN(len(corners))])
	}
	return text.String()
}

func FuzzLine(f *testing.F) {
	for _, c := range hostile {
		f.Add(c.in)
	}
	f.Fuzz(checkLine)
}
