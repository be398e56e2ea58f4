package cli

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tui"
)

var update = flag.Bool("update", false, "rewrite the parts of README.md that are made from the code")

// The keys, the rules and the picture in the README are made from the tables and the demo
// sheet that the program itself uses.
func TestReadmeIsNotStale(t *testing.T) {
	const path = "../../README.md"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for name, want := range map[string]string{"keys": keyTable(), "rules": ruleTable(), "screen": demoPicture(t)} {
		begin, end := "<!-- "+name+": begin -->\n", "<!-- "+name+": end -->"
		before, rest, ok := strings.Cut(text, begin)
		old, after, ok2 := strings.Cut(rest, end)
		if !ok || !ok2 {
			t.Fatalf("README.md has no %s part", name)
		}
		if old != want && !*update {
			t.Errorf("the %s in README.md are stale; go test ./internal/cli -run Readme -update writes them", name)
		}
		text = before + begin + want + end + after
	}
	if *update {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func keyTable() string {
	var b strings.Builder
	b.WriteString("| | key | what it does |\n|---|---|---|\n")
	group := ""
	for _, k := range tui.Keys() {
		name := ""
		if k.Group != group {
			group, name = k.Group, k.Group
		}
		fmt.Fprintf(&b, "| %s | `%s` | %s |\n", name, k.Keys, k.Does)
	}
	return b.String()
}

func ruleTable() string {
	var b strings.Builder
	b.WriteString("| rule | reports | at most as |\n|---|---|---|\n")
	for _, r := range rule.All {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", r.ID, r.Title, r.Severity)
	}
	b.WriteString("\n| limit | | default | from |\n|---|---|---|---|\n")
	for _, l := range sheet.Limits {
		fmt.Fprintf(&b, "| `%s` | %s | %g %s | %s |\n", l.Name, l.Title, l.Default, l.Unit, l.Source)
	}
	return b.String()
}

func demoPicture(t *testing.T) string {
	data, err := assets.Sheets.ReadFile("sheets/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := sheetfile.Decode("demo.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return "```\n" + mapText(s, table, rule.Check(s, table), figure.Unicode, false) + "```\n"
}
