package card_test

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/card"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
)

// load reads a sheet of testdata.
func load(t testing.TB, name string) *sheet.Sheet {
	t.Helper()
	s, _, err := sheetfile.Load(filepath.Join("testdata", name+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// read reads a sheet that is written out.
func read(t testing.TB, text string) *sheet.Sheet {
	t.Helper()
	s, _, err := sheetfile.Decode("sheet.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// tabled is the slot table of a sheet.
func tabled(t testing.TB, s *sheet.Sheet) *slots.Table {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// cardOf is the card of a sheet, with the order of the studio that comes with the program.
func cardOf(t testing.TB, s *sheet.Sheet, paper page.Size) *card.Card {
	t.Helper()
	table := tabled(t, s)
	st, _, err := sheetfile.DecodeStudio("studio.toml", assets.Studio)
	if err != nil {
		t.Fatal(err)
	}
	order := tally.OrderOf(s, tally.Count(s, table), st)
	return card.Of(s, table, card.Options{Paper: paper, Studio: st.Name, Order: &order})
}

// sheets are those that most tests look at: of testdata, and those that come with the program.
func sheets(t testing.TB) map[string]*sheet.Sheet {
	t.Helper()
	list := map[string]*sheet.Sheet{}
	for _, name := range []string{"salon", "big", "names", "empty"} {
		list[name] = load(t, name)
	}
	files, err := filepath.Glob("../../assets/sheets/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no sheets come with the program: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		list[filepath.Base(file)] = read(t, string(data))
	}
	return list
}

// papers are the two sizes of paper.
var papers = map[string]page.Size{"A4": page.A4, "Letter": page.Letter}
