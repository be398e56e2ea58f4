package cli

import (
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/ptytest"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/tui"
)

var update = flag.Bool("update", false, "rewrite the parts of README.md and DEVELOPERS.md that are made from the code")

// The keys, the rules and the picture in the README are made from the tables and the demo
// sheet that the program itself uses.
func TestReadmeIsNotStale(t *testing.T) {
	notStale(t, "README.md", map[string]string{"keys": keyTable(), "rules": ruleTable(), "screen": demoPicture(t), "plain": demoDialogue(t)})
}

// So is the table of rules for developers.
func TestReadmeForDevelopersIsNotStale(t *testing.T) {
	notStale(t, "DEVELOPERS.md", map[string]string{"rules": developersTable()})
}

// notStale holds the parts of a file between their marks against what they should be, or writes them.
func notStale(t *testing.T, name string, parts map[string]string) {
	t.Helper()
	path := "../../" + name
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for part, want := range parts {
		begin, end := "<!-- "+part+": begin -->\n", "<!-- "+part+": end -->"
		before, rest, ok := strings.Cut(text, begin)
		old, after, ok2 := strings.Cut(rest, end)
		if !ok || !ok2 {
			t.Fatalf("%s has no %s part", name, part)
		}
		if old != want && !*update {
			t.Errorf("the %s in %s are stale; go test ./internal/cli -run Readme -update writes them", part, name)
		}
		text = before + begin + want + end + after
	}
	if *update {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// The sheet in the README can be read as it stands, and with the lines that are remarks in it.
func TestReadmeSheetIsRead(t *testing.T) {
	text := filesOfReadme(t)[1]
	for _, text := range []string{text, strings.NewReplacer("# confirmed", "confirmed", "# slot", "slot").Replace(text)} {
		s, _, err := sheetfile.Decode("README.md", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Rows) != 2 || len(s.Accepted) != 2 || len(s.KeepOff) != 1 || len(s.Moved) != 2 || len(s.Limits) != 1 ||
			len(s.Asked.Answers) != len(sheet.Questions) || s.Amounts == (sheet.Amounts{}) || s.Hair.Root == "" || s.Shades[0].Toned == "" {
			t.Errorf("not all of the sheet was read: %+v", s)
		}
	}
}

// filesOfReadme are the files that stand in the README: settings, a sheet, an exercise, a demonstration.
func filesOfReadme(t *testing.T) (found []string) {
	t.Helper()
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range strings.Split(string(data), "```toml\n")[1:] {
		text, _, _ := strings.Cut(part, "```\n")
		found = append(found, text)
	}
	if len(found) != 4 {
		t.Fatalf("README.md has %d files", len(found))
	}
	return found
}

// The settings in the README are read as they stand there, and each is one of the file that settings write writes.
func TestReadmeSettingsAreRead(t *testing.T) {
	text := filesOfReadme(t)[0]
	set, err := sheetfile.DecodeSettings("README.md", []byte(text), tui.Commands())
	if err != nil {
		t.Fatal(err)
	}
	begun := string(sheetfile.NewSettings(tui.Commands()))
	keys := 0
	for line := range strings.Lines(text) {
		name, _, ok := strings.Cut(line, " = ")
		if !ok || name == "format" {
			continue
		}
		if !strings.Contains(begun, "\n#"+name+" = ") {
			t.Errorf("settings write does not write %s", name)
		}
		if set.Line(name) == 0 {
			keys++
		}
	}
	if keys != len(set.Keys) || keys < 5 {
		t.Errorf("%d commands have keys, and %d were read", keys, len(set.Keys))
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
	b.WriteString("| rule | reports | at most as | limits |\n|---|---|---|---|\n")
	for _, r := range rule.All {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", r.ID, r.Title, r.Severity, limitsOf(r))
	}
	b.WriteString("\n| limit | | default | from |\n|---|---|---|---|\n")
	for _, l := range sheet.Limits {
		fmt.Fprintf(&b, "| `%s` | %s | %g %s | %s |\n", l.Name, l.Title, l.Default, l.Unit, l.Source)
	}
	return b.String()
}

func developersTable() string {
	var b strings.Builder
	b.WriteString("| rule | at most | reports | limits | since |\n|---|---|---|---|---|\n")
	for _, r := range rule.All {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", r.ID, r.Severity, r.Title, limitsOf(r), r.Since)
	}
	return b.String()
}

// limitsOf names what a rule measures against and reckons with.
func limitsOf(r *rule.Rule) string {
	var names []string
	for _, name := range r.Limits {
		names = append(names, "`"+string(name)+"`")
	}
	return strings.Join(names, " ")
}

// demoPicture is the editor's own screen with the demo sheet open.
func demoPicture(t *testing.T) string {
	list, err := demos()
	if err != nil {
		t.Fatal(err)
	}
	m := tui.New(io.Discard, tui.Options{Glyphs: figure.Unicode, Palette: cells.NewPalette(termenv.Ascii, figure.Styles(true)),
		Files: (&program{}).files(), Demos: list, Today: time.Now})
	m.Update(tea.WindowSizeMsg{Width: 108, Height: 40})
	for _, k := range []tea.KeyType{tea.KeyDown, tea.KeyDown, tea.KeyDown, tea.KeyEnter} { // past "new" and "open" and the clean sheet
		m.Update(tea.KeyMsg{Type: k})
	}
	text := m.Screen().String()
	if !strings.Contains(text, "client 014") {
		t.Fatalf("the demo is not open:\n%s", text)
	}
	return "```\n" + text + "```\n"
}

// demoDialogue is a short dialogue on the demo sheet.
func demoDialogue(t *testing.T) string {
	list, err := demos()
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(list, func(d tui.Demo) bool { return d.Name == "demo" })
	files := (&program{}).files()
	s, err := files.Parse("demo.toml", list[i].Data)
	if err != nil {
		t.Fatal(err)
	}
	files.Stamp, files.Opened, files.Exists, files.Hold = func(string) string { return "" }, func(string) {}, func(string) bool { return false }, nil
	files.Save = func(string, *sheet.Sheet) (string, string, error) { return "", "", nil }
	day := func() time.Time { return time.Date(2026, time.March, 2, 12, 0, 0, 0, time.UTC) }
	var said strings.Builder
	in := ptytest.Typed([]string{"finding 1", "fix", "undo", "go 90 left 2", "paint every second split", "undo", "row 60", "findings", "finding 1", "accept she ties it lower", "save", "leave"}, &said)
	if err := tui.Plain(in, &said, tui.Options{Glyphs: figure.Unicode, Files: files, Today: day}, &tui.Opened{Path: "spring.toml", Sheet: s}); err != nil {
		t.Fatal(err)
	}
	return "```\n" + said.String() + "```\n"
}

// The exercise and the demonstration of the README are read as they stand there, and the exercise can be solved.
func TestReadmeLessonsAreRead(t *testing.T) {
	found := filesOfReadme(t)
	x, notices, err := sheetfile.DecodeExercise("README.md", []byte(found[2]))
	if err != nil || len(notices) > 0 {
		t.Fatal(err, notices)
	}
	for _, problem := range (&lesson.Judge{Exercise: x}).Check() {
		t.Error(problem)
	}
	script, notices, err := sheetfile.DecodeScript("README.md", []byte(found[3]))
	if err != nil || len(notices) > 0 || len(script.Steps) != 1 {
		t.Fatal(err, notices)
	}
}
