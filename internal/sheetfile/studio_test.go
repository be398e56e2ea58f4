package sheetfile

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/underveil/assets"
	"example.org/underveil/internal/money"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

// wantStudio decodes a studio that must be right as it is.
func wantStudio(t *testing.T, name string, data []byte) *studio.Studio {
	t.Helper()
	s, notices, err := DecodeStudio(name, data)
	if err != nil {
		t.Fatal(err)
	}
	if len(notices) > 0 {
		t.Errorf("notices %v", notices)
	}
	return s
}

// Each sample of testdata/files/bad-studio is refused with the message beside it, at a place in it.
func TestBadStudioSamples(t *testing.T) {
	for _, path := range sampleFiles(t, "bad-studio") {
		name := filepath.Base(path)
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			data := readSample(t, path)
			s, notices, err := DecodeStudio(name, data)
			if err == nil {
				t.Fatal("the sample is accepted")
			}
			if s != nil || notices != nil {
				t.Error("there is a studio or a notice beside the error")
			}
			wantSafeError(t, err)
			if isText(data) {
				wantPlaces(t, err)
			}
			wantGolden(t, strings.TrimSuffix(path, ".toml")+".txt", err.Error()+"\n")
		})
	}
	golden, err := filepath.Glob(filepath.Join(samples, "bad-studio", "*.txt"))
	if err != nil || len(golden) != len(sampleFiles(t, "bad-studio")) {
		t.Errorf("%d messages for %d samples (%v)", len(golden), len(sampleFiles(t, "bad-studio")), err)
	}
}

// wantPlaces asserts that each of the errors has a line.
func wantPlaces(t *testing.T, err error) {
	t.Helper()
	for _, e := range err.(Errors) {
		if e.Line == 0 {
			t.Errorf("there is no place of: %s", e.Problem)
		}
	}
}

// However a studio is written, it is the same studio.
func TestHandEditedStudios(t *testing.T) {
	want := &studio.Studio{
		Name:     "Oat and Ash",
		Contact:  "030 901820, oatandash@example.org",
		Currency: money.Currency{Code: "EUR", Decimals: 2},
		Service: studio.Service{Setup: 20 * time.Minute, Row: 270 * time.Second, Bond: 93 * time.Second,
			Check: 15 * time.Second, Finish: 30 * time.Minute, Hour: 4500, Spare: 5},
		Strands: []studio.Strand{
			{Shade: sheet.Shade{Name: "oat", Length: 500, Grams: 0.8, Pack: 25, Colour: "#c9a26b", Texture: "straight", Ends: 62.5},
				Tip: "flat", Price: 6250, OnHand: 40},
			{Shade: sheet.Shade{Name: "oat", Length: 600, Grams: 1, Pack: 20}, Price: 108400},
			{Shade: sheet.Shade{Name: "bog oak", Length: 400, Grams: 0.8, Pack: 25, Colour: "9.2 1.4 2.5"}, Price: 99},
		},
		Limits: map[sheet.LimitName]float64{sheet.LimitNape: 25, "veil": 50},
	}
	for _, name := range []string{"full.toml", "full-otherwise.toml"} {
		for edit, data := range asSaved(readSample(t, filepath.Join(samples, "good-studio", name))) {
			if got := wantStudio(t, name, data); !reflect.DeepEqual(got, want) {
				t.Errorf("%s%s:\n%+v\nwant\n%+v", name, edit, got, want)
			}
		}
	}
}

// A format and a currency are a studio.
func TestLeastStudio(t *testing.T) {
	got := wantStudio(t, "least.toml", readSample(t, filepath.Join(samples, "good-studio", "least.toml")))
	if want := (&studio.Studio{Currency: money.Currency{Code: "EUR", Decimals: 2}}); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// The studio that comes with the program is right, and its strands go with the sheet to look at.
func TestDefaultStudio(t *testing.T) {
	s := wantStudio(t, "studio.toml", assets.Studio)
	oat, crust := s.Find("oat", 500), s.Find("rye crust", 500)
	if oat == nil || crust == nil {
		t.Fatal("a strand is missing")
	}
	if got := s.Currency.Format(oat.Price); got != "66.00 EUR" {
		t.Errorf("oat costs %s", got)
	}
	if got := s.Currency.Format(crust.Price); got != "62.50 EUR" {
		t.Errorf("rye crust costs %s", got)
	}
	if oat.Colour != "#c9a26b" || s.Service.Hour != 4500 {
		t.Errorf("oat has the colour %s, and an hour costs %d", oat.Colour, s.Service.Hour)
	}
	empty, textures := 0, map[string]bool{}
	for _, st := range s.Strands {
		if st.OnHand == 0 {
			empty++
		}
		textures[st.Texture] = true
		if st.Colour == "" || st.Ends == 0 || st.Tip == "" || st.Price == 0 {
			t.Errorf("%s of %v mm does not say all", st.Name, st.Length)
		}
	}
	if len(s.Strands) != 16 || empty != len(s.Strands) || len(textures) != 2 {
		t.Errorf("%d strands, of which %d are not in the drawer (nobody has invented hair at hand), in %d textures", len(s.Strands), empty, len(textures))
	}
	wantStrandsOfDemo(t, s)
}

// wantStrandsOfDemo asserts that the shades of the sheet to look at are in stock, and as the sheet says.
func wantStrandsOfDemo(t *testing.T, s *studio.Studio) {
	t.Helper()
	data, err := assets.Sheets.ReadFile("sheets/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range wantSheet(t, "demo.toml", data).Shades {
		st := s.Find(h.Name, h.Length)
		if st == nil || st.Grams != h.Grams || st.Pack != h.Pack {
			t.Errorf("%s of %v mm, %v g, %d in a pack: the studio has %+v", h.Name, h.Length, h.Grams, h.Pack, st)
		}
	}
}

// Sums are exact: a price comes back with the very digits in the file, where a float would lose some.
func TestSumsAreExact(t *testing.T) {
	for _, c := range []struct {
		currency, written string
		want              money.Amount
	}{
		{"EUR", "0", 0},
		{"EUR", "+0.01", 1},
		{"EUR", "0.29", 29}, // 28.999... as a float
		{"EUR", "1.15", 115},
		{"EUR", "99_999.99", 9999999},
		{"EUR", "100000", 10000000},
		{"EUR", "64.5", 6450},
		{"EUR", `" 64,5 "`, 6450},
		{"EUR", `'64.50'`, 6450},
		{"EUR", `"6\u0034"`, 6400},
		{"JPY", "10_000_000", 10000000},
		{"JPY", `"7500"`, 7500},
		{"KWD", "19.125", 19125},
		{"KWD", "19.1", 19100},
	} {
		s := wantStudio(t, "sum.toml", []byte("format = 1\ncurrency = \""+c.currency+"\"\n[service]\nhour = "+c.written+" # so much\n"))
		if s.Service.Hour != c.want {
			t.Errorf("%s in %s is %d, want %d", c.written, c.currency, s.Service.Hour, c.want)
		}
	}
	// A key may be written with an escape, or in a table within a line.
	s := wantStudio(t, "key.toml", []byte("format = 1\ncurrency = 'EUR'\nservice = {\"h\\u006fur\" = 45.10, row = 4}\n"))
	if s.Service.Hour != 4510 {
		t.Errorf("an hour costs %d", s.Service.Hour)
	}
}

// Times are kept to the second.
func TestTimesAreInSeconds(t *testing.T) {
	s := wantStudio(t, "times.toml", []byte("format = 1\ncurrency = 'EUR'\n[service]\nsetup = 600\nrow = 0\nbond = 1.51\ncheck = 0.1\n"))
	want := studio.Service{Setup: 10 * time.Hour, Bond: 91 * time.Second, Check: 6 * time.Second}
	if s.Service != want {
		t.Errorf("%+v, want %+v", s.Service, want)
	}
}

func TestDamagedTextOfAStudioBecomesSafe(t *testing.T) {
	s, notices, err := DecodeStudio("hostile.toml", readSample(t, filepath.Join(samples, "good-studio", "hostile.toml")))
	if err != nil {
		t.Fatal(err)
	}
	wantSafeStudio(t, s)
	want := []Notice{
		{2, "studio: 1 character that cannot be shown was replaced"},
		{3, "contact: 2 characters that cannot be shown were replaced"},
		{7, "shade: 1 character that cannot be shown was replaced"},
		{11, "tip: 2 characters that cannot be shown were replaced"},
	}
	if !slices.Equal(notices, want) {
		t.Errorf("notices %v, want %v", notices, want)
	}
}

func wantSafeStudio(t *testing.T, s *studio.Studio) {
	t.Helper()
	texts := []string{s.Name, s.Contact, s.Currency.Code}
	for _, st := range s.Strands {
		texts = append(texts, st.Name, st.Texture, st.Tip, string(st.Colour))
	}
	for _, text := range texts {
		if !printable.Clean(text) {
			t.Errorf("%+q is not safe to show", text)
		}
	}
}

// Every key has an example that is right, and full.toml has every key.
func TestEveryKeyOfAStudioIsShown(t *testing.T) {
	text := string(readSample(t, filepath.Join(samples, "good-studio", "full.toml")))
	for table, keys := range studioFile.keysIn {
		for _, key := range keys {
			if studioFile.value(table, key) == "" && !studioFile.isTable(key) {
				t.Errorf("there is no example of %s", key)
			}
			if table != "limits" && !strings.Contains(text, "\n"+key+" = ") && !strings.Contains("\n"+text, "\n"+key+" = ") && !studioFile.isTable(key) {
				t.Errorf("full.toml has no %s", key)
			}
		}
	}
}

func TestLoadStudio(t *testing.T) {
	path := filepath.Join(t.TempDir(), "studio.toml")
	if _, _, err := LoadStudio(path); err == nil || !strings.Contains(err.Error(), "no such file") || strings.Contains(err.Error(), "sheet") {
		t.Errorf("error %v", err)
	}
	if err := os.WriteFile(path, assets.Studio, 0o600); err != nil {
		t.Fatal(err)
	}
	s, notices, err := LoadStudio(path)
	if err != nil || len(notices) > 0 || len(s.Strands) != 16 {
		t.Errorf("%v, notices %v, error %v", s, notices, err)
	}
	if _, _, err := Load(path); err == nil || !strings.Contains(err.Error(), "this is a studio file") {
		t.Errorf("as a sheet: %v", err)
	}
}
