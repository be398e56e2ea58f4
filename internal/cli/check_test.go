package cli

import (
	"encoding/json"
	"regexp"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
)

// Figures are reported with no more digits than come out alike on every processor.
func TestFiguresAreReportedToAMillionth(t *testing.T) {
	data, err := assets.Sheets.ReadFile("sheets/faults.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := sheetfile.Decode("faults.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(jsonOf("faults.toml", s, rule.Check(s, table)))
	if err != nil {
		t.Fatal(err)
	}
	numbers := regexp.MustCompile(`"(?:value|limit)":(-?[0-9.e+-]+)`).FindAllSubmatch(text, -1)
	if len(numbers) < 5 {
		t.Fatalf("%d figures in %s", len(numbers), text)
	}
	for _, n := range numbers {
		if !regexp.MustCompile(`^(0|-?\d+(\.\d{1,6})?)$`).Match(n[1]) {
			t.Errorf("%s", n[1])
		}
	}
	if got := rounded(-1e-9); 1/got < 0 {
		t.Error("a figure of -0")
	}
}
