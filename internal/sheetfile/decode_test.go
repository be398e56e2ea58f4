package sheetfile

import (
	"bytes"
	"flag"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

var update = flag.Bool("update", false, "write the expected messages anew")

const samples = "../../testdata/files"

// Each sample of testdata/files/bad is refused with the message beside it.
func TestBadSamples(t *testing.T) {
	for _, path := range sampleFiles(t, "bad") {
		name := filepath.Base(path)
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			s, notices, err := Decode(name, readSample(t, path))
			if err == nil {
				t.Fatal("the sample is accepted")
			}
			if s != nil || notices != nil {
				t.Error("there is a sheet or a notice beside the error")
			}
			wantSafeError(t, err)
			wantGolden(t, strings.TrimSuffix(path, ".toml")+".txt", err.Error()+"\n")
		})
	}
}

// No message is left over whose sample is gone, and no two samples say the same.
func TestBadSamplesAreComplete(t *testing.T) {
	golden, err := filepath.Glob(filepath.Join(samples, "bad", "*.txt"))
	if err != nil || len(golden) != len(sampleFiles(t, "bad")) {
		t.Errorf("%d messages for %d samples (%v)", len(golden), len(sampleFiles(t, "bad")), err)
	}
}

// However a sheet is written, it is the same sheet: these samples all say what full.toml says.
func TestHandEditedSheets(t *testing.T) {
	full := readSample(t, filepath.Join(samples, "good", "full.toml"))
	for _, path := range sampleFiles(t, "good") {
		name := filepath.Base(path)
		if !strings.HasPrefix(name, "full") {
			continue
		}
		for edit, data := range asSaved(readSample(t, path)) {
			t.Run(name+edit, func(t *testing.T) {
				if got := Encode(wantSheet(t, name, data)); !bytes.Equal(got, full) {
					t.Error(diff(string(full), string(got)))
				}
			})
		}
	}
}

// asSaved is a text as editors save it.
func asSaved(data []byte) map[string][]byte {
	return map[string][]byte{
		"":                  data,
		", CRLF":            bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n")),
		", byte order mark": append([]byte("\ufeff"), data...),
		", no last newline": bytes.TrimRight(data, "\n"),
	}
}

// What a sheet leaves out is as on a new sheet, but there is no parting, and nothing is known of the client's own hair.
func TestLeastSheet(t *testing.T) {
	s := wantSheet(t, "least.toml", readSample(t, filepath.Join(samples, "good", "least.toml")))
	want := sheet.New(s.Measures)
	want.Partings = nil
	want.Hair = sheet.Hair{}
	if got, want := string(Encode(s)), string(Encode(want)); got != want {
		t.Error(diff(want, got))
	}
}

func TestWhatIsLeftOut(t *testing.T) {
	const head = "format = 1\n%[head]\ncircumference = 560\near_to_ear = 340\nfront_to_nape = 355\nnape_width = 108\n"
	decode := func(top, rest string) *sheet.Sheet {
		t.Helper()
		return wantSheet(t, "sheet.toml", []byte(strings.Replace(head, "%", top, 1)+rest))
	}
	if s := decode("worn = []\nwish = []\nshade = []\n", ""); len(s.Worn)+len(s.Wish)+len(s.Shades) != 0 {
		t.Errorf("empty lists are not empty: %v %v %v", s.Worn, s.Wish, s.Shades)
	}
	if s := decode("", "[hair]\ntexture = 'wavy'\n"); s.Hair != (sheet.Hair{Texture: "wavy"}) {
		t.Errorf("hair of which the texture is known: %+v", s.Hair)
	}
	if s := decode("", "[[parting]]\n"); len(s.Partings) != 1 || s.Partings[0].Length != 120 {
		t.Errorf("a parting that says nothing: %v", s.Partings)
	}
	if s := decode("", "[[shade]]\nkey = 'q'\n"); s.Shades[0] != (sheet.Shade{Key: 'q', Name: "shade q", Length: 500, Grams: 0.8, Pack: 25}) {
		t.Errorf("a shade that says its letter alone: %v", s.Shades)
	}
	if s := decode("", "[hairline]\n'front centre' = [0, -0.0]\n"); s.Moved != nil {
		t.Errorf("a point that is not moved: %v", s.Moved)
	}
	if s := decode("", "[[row]]\nheight = 60\nbonds = '..(.)..'\n[[shade]]\nkey = 'a'\n"); len(s.Rows) != 0 {
		t.Errorf("a row without bonds: %v", s.Rows)
	}
	if s := decode("", "[[row]]\nalong = -0.0\nbonds = '(a)'\n[[shade]]\nkey = 'a'\n[limits]\nnape = -0.0\n"); strings.Contains(string(Encode(s)), "-0") {
		t.Errorf("negative zero:\n%s", Encode(s))
	}
	if s := decode("", "[[shade]]\nkey = 'a'\n[[visit]]\nkind = 'fitting'\ndate = 2026-03-02\nfitted = ['-0 (a)', '60 .(.)']\nseen = ['60 (.)']\nticks = []\nstrands = []\n"); !reflect.DeepEqual(s.Visits,
		[]sheet.Visit{{Kind: sheet.Fitting, Date: "2026-03-02", Fitted: []sheet.Row{sheet.NewRow(sheet.Place{}, map[int]sheet.Bond{0: {Shade: 'a'}})}}}) || s.Visits[0].Fitted[0].Place.String() != "height 0" {
		t.Errorf("lists that say nothing: %+v", s.Visits)
	}
	if s := decode("visit = []\nshade = []\n", ""); s.Visits != nil {
		t.Errorf("no visits: %v", s.Visits)
	}
	// A nape moved up takes the lowest lines off the map, and the others stay.
	if s := decode("", "[hairline]\n'nape centre' = [0, 25]\n'nape corner left' = [0, 25]\n'nape corner right' = [0, 25]\n[[row]]\nheight = 60\nbonds = '(a)'\n[[shade]]\nkey = 'a'\n"); len(s.Rows) != 1 {
		t.Errorf("a row over a nape moved up: %v", s.Rows)
	}
}

// Only what is known of the client's own hair is written.
func TestHairIsNotInvented(t *testing.T) {
	for _, c := range []struct {
		hair sheet.Hair
		want string
	}{
		{sheet.Hair{}, ""},
		{sheet.Hair{Length: 250}, "[hair]\nlength = 250\n\n"},
		{sheet.Hair{Ponytail: 82.5, Count: 175}, "[hair]\nponytail = 82.5\ncount = 175\n\n"},
		{sheet.Hair{Density: "fine", Texture: "coily"}, "[hair]\ndensity = \"fine\"\ntexture = \"coily\"\n\n"},
	} {
		s := sheet.New(scalp.Sizes[1].Measures)
		s.Hair = c.hair
		text := string(Encode(s))
		_, got, _ := strings.Cut(text, "nape_width = 108\n\n")
		if got, _, _ = strings.Cut(got, "[[parting]]"); got != c.want {
			t.Errorf("%+v is written %q, want %q", c.hair, got, c.want)
		}
		if again := wantSheet(t, "hair.toml", []byte(text)); again.Hair != c.hair || string(Encode(again)) != text {
			t.Errorf("%+v came back as %+v", c.hair, again.Hair)
		}
	}
}

// The limits of the studio are in its own file, and are neither written in a sheet nor read from it.
func TestLimitsOfTheStudioAreNotWritten(t *testing.T) {
	s := sheet.New(scalp.Sizes[1].Measures).WithLimit(sheet.LimitNape, 25)
	text := Encode(s)
	s.House = map[sheet.LimitName]float64{sheet.LimitNape: 30, sheet.LimitEar: 12}
	if got := Encode(s); !bytes.Equal(got, text) {
		t.Error(diff(string(text), string(got)))
	}
	if again := wantSheet(t, "house.toml", text); again.House != nil || again.Limits[sheet.LimitNape] != 25 {
		t.Errorf("limits %v, and of the studio %v", again.Limits, again.House)
	}
}

// The day on which a sheet is looked at is none of its own.
func TestTodayIsNotWritten(t *testing.T) {
	s := sheet.New(scalp.Sizes[1].Measures)
	text := Encode(s)
	s.Today = "2026-03-02"
	if got := Encode(s); !bytes.Equal(got, text) {
		t.Error(diff(string(text), string(got)))
	}
}

// One notice tells of the remarks that saving loses; what a saved sheet begins with, and a first line of its own, are
// no such remarks.
func TestRemarksAreMissed(t *testing.T) {
	least := string(readSample(t, filepath.Join(samples, "good", "least.toml")))
	for name, c := range map[string]struct {
		text string
		line int // of the first remark that is lost, 0 for none
	}{
		"none":                 {least, 0},
		"a first line":         {"# for Thursday\n" + least, 0},
		"the line of a save":   {headRemark + "\n" + least, 0},
		"both":                 {"# for Thursday\n" + headRemark + "\n" + least, 0},
		"a second line":        {"# for Thursday\n# at noon\n" + least, 2},
		"after a blank line":   {"\n# for Thursday\n" + least, 2},
		"at the end":           {least + "# done", 8},
		"two":                  {least + "confirmed = true # twice\n# done\n", 8},
		"behind a first value": {strings.Replace(least, "format = 1", "format = 1 # the only one", 1), 1},
		"within a list":        {strings.Replace(least, "format = 1", "format = 1\nworn = [ # often\n\"down\"]", 1), 2},
		"# in a text":          {strings.Replace(least, "format = 1", "format = 1\ntitle = \"# 3\"\nnotes = '''\n# 4'''", 1), 0},
	} {
		for edit, data := range asSaved([]byte(c.text)) {
			_, got, err := Decode("remarks.toml", data)
			var want []Notice
			if c.line > 0 {
				want = []Notice{{c.line, "remarks after # are not kept when the sheet is saved"}}
			}
			if err != nil || !slices.Equal(got, want) {
				t.Errorf("%s%s: notices %v, error %v, want %v", name, edit, got, err, want)
			}
		}
	}
}

// Names that need a joiner, and composed pictures, stay as they are and can be read in the file.
func TestJoinersAreKept(t *testing.T) {
	const title = "شیرین\u200Cبانو 👩🏽\u200D🦱"
	s := sheet.New(scalp.Sizes[1].Measures)
	s.Title = title
	text := Encode(s)
	if !bytes.Contains(text, []byte(title)) {
		t.Errorf("it is written\n%s", text)
	}
	if got := wantSheet(t, "joiners.toml", text); got.Title != title {
		t.Errorf("title %+q, want %+q", got.Title, title)
	}
}

// Every key that can be read is written, so that no part of a sheet is lost.
func TestEveryKeyIsWritten(t *testing.T) {
	text := string(readSample(t, filepath.Join(samples, "good", "full.toml")))
	for table, keys := range headSheet.keysIn {
		for _, key := range keys {
			if table == "hairline" || table == "turns" || table == "limits" {
				continue // any of them will do
			}
			if line := "\n" + key + " = "; !strings.Contains(text, line) && !strings.Contains(text, headSheet.heading(key)) {
				t.Errorf("full.toml has no %s of %s", key, headSheet.heading(table))
			}
			if headSheet.value(table, key) == "" && !headSheet.isTable(key) {
				t.Errorf("there is no example of %s", key)
			}
		}
	}
}

func TestDamagedTextBecomesSafe(t *testing.T) {
	s, notices, err := Decode("hostile.toml", readSample(t, filepath.Join(samples, "good", "hostile.toml")))
	if err != nil {
		t.Fatal(err)
	}
	wantSafeSheet(t, s)
	var got []string
	for _, n := range notices {
		if n.Line == 0 || !printable.Clean(n.Text) {
			t.Errorf("notice %+q on line %d", n.Text, n.Line)
		}
		got = append(got, n.Text)
	}
	want := []string{
		"title: 1 character that cannot be shown was replaced",
		"client: line breaks and tabs became blanks",
		"notes: 3 characters that cannot be shown were replaced",
		"why: 1 character that cannot be shown was replaced",
		"name: 2 characters that cannot be shown were replaced",
		"toned: 1 character that cannot be shown was replaced",
		"about: 1 character that cannot be shown was replaced",
		"reason: 1 character that cannot be shown was replaced",
		"by: 1 character that cannot be shown was replaced",
		"by: 1 character that cannot be shown was replaced",
		"notes: 3 characters that cannot be shown were replaced",
	}
	if !slices.Equal(got, want) {
		t.Errorf("notices\n %s\nwant\n %s", strings.Join(got, "\n "), strings.Join(want, "\n "))
	}
	if want := "first\uFFFDline\nsecond\uFFFD\uFFFD line"; s.Notes != want {
		t.Errorf("notes %q, want %q", s.Notes, want)
	}
	if text := Encode(s); !bytes.Equal(text, Encode(wantSheet(t, "again", text))) {
		t.Error("it is another sheet when read again")
	}
}

// Far more than a head sheet holds is refused before the TOML reader sees it.
func TestTooMuchIsRefused(t *testing.T) {
	if testing.Short() {
		t.Skip("it reads megabytes")
	}
	many := func(line string, n int) string { return "format = 1\n" + strings.Repeat(line, n) }
	keys := &strings.Builder{}
	for i := range 30000 {
		keys.WriteString("k" + strings.Repeat("x", i%5) + string(rune('a'+i%26)) + plain(float64(i)) + " = 1\n")
	}
	for name, text := range map[string]string{
		"rows":      many("[[row]]\n", 100000),
		"keys":      keys.String(),
		"elements":  many("worn = ["+strings.Repeat("1,", 400000)+"]\n", 1),
		"brackets":  "format = " + strings.Repeat("[", MaxSize/2),
		"braces":    "format = " + strings.Repeat("{a=", MaxSize/4),
		"dots":      strings.Repeat("a.", MaxSize/4) + "a = 1\n",
		"header":    "[" + strings.Repeat("a.", MaxSize/4) + "a]\n",
		"long key":  "[" + strings.Repeat("a", MaxSize/2) + "]\nformat = 1\n",
		"one byte":  strings.Repeat("#", MaxSize+1),
		"long line": "format = 2" + strings.Repeat(" ", MaxSize/2) + "#" + strings.Repeat("\u202e", MaxSize/8),
	} {
		t.Run(name, func(t *testing.T) {
			var err error
			used := allocated(func() { _, _, err = Decode("big.toml", []byte(text)) })
			if err == nil {
				t.Fatal("it is accepted")
			}
			if used > 24<<20 {
				t.Errorf("%d bytes allocated", used)
			}
			wantSafeError(t, err)
			if n := len(err.Error()); n > 2000 {
				t.Errorf("a message of %d bytes", n)
			}
		})
	}
}
