package tui

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/sheetfile"
)

func demo(t testing.TB) Demo {
	t.Helper()
	data, err := os.ReadFile("../../assets/sheets/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	return Demo{Name: "demo", About: "a fitting half planned", Data: data}
}

// folder is a disk with some sheets that were open lately.
func folder(t testing.TB, names ...string) *disk {
	d := newDisk()
	for _, n := range names {
		s := *plainSheet(t)
		s.Title = "sheet " + n
		d.held[n] = sheetfile.Encode(&s)
	}
	d.recent = names
	return d
}

func TestStartPageIsNeverEmpty(t *testing.T) {
	e := start(t, setup{})
	e.says("a new sheet")
	e.says("open a sheet")
	e.press("Enter")
	e.says("circumference")
}

func TestStartPageOpensTheSheetOpenLast(t *testing.T) {
	e := start(t, setup{disk: folder(t, "one.toml", "two.toml"), demos: []Demo{demo(t)}})
	e.says("one.toml")
	e.press("Enter")
	e.says("sheet one.toml")
	if want := []string{"one.toml"}; !slices.Equal(e.disk.opened, want) {
		t.Errorf("remembered as open lately: %q, want %q", e.disk.opened, want)
	}
}

func TestStartPageKeys(t *testing.T) {
	for _, c := range []struct {
		keys []string
		says string
	}{
		{[]string{"Down", "Enter"}, "sheet two.toml"},
		{[]string{"Tab", "space"}, "sheet two.toml"},
		{[]string{"Down", "Up", "Enter"}, "sheet one.toml"},
		{[]string{"Up", "Up", "Enter"}, "a new sheet"},
		{[]string{"Up", "Enter"}, "lately open"},
		{[]string{"Down", "Down", "Enter"}, "spring fitting"},
		{[]string{"Down", "Down", "Down", "Down", "Enter"}, "spring fitting"},
		{[]string{"n"}, "circumference"},
		{[]string{"ctrl+n"}, "circumference"},
		{[]string{"o"}, "type a name"},
		{[]string{"ctrl+o"}, "type a name"},
		{[]string{"?"}, "any other key closes"},
		{[]string{"n", "Esc"}, "one.toml"},
	} {
		e := start(t, setup{disk: folder(t, "one.toml", "two.toml"), demos: []Demo{demo(t)}})
		e.press(c.keys...)
		e.last = strings.Join(c.keys, " ")
		e.says(c.says)
	}
	for _, k := range []string{"q", "Esc", "ctrl+c"} {
		e := start(t, setup{})
		e.press(k)
		if !e.quit {
			t.Errorf("%s does not leave the start page", k)
		}
	}
}

// The list on the start page is read again when the list of sheets to open is, and may have got shorter.
func TestStartPageWithSheetsThatAreGone(t *testing.T) {
	names := []string{"1.toml", "2.toml", "3.toml", "4.toml", "5.toml", "6.toml"}
	for down := range 8 {
		e := start(t, setup{disk: folder(t, names...), demos: []Demo{demo(t)}})
		for range down {
			e.press("Down")
		}
		e.disk.recent = names[:1]
		e.press("o", "Esc")
		if it := e.m.start.items[e.m.start.at]; it.do == nil {
			t.Fatalf("with %d sheets down, %q is chosen", down, it.name)
		}
		e.press("Enter")
	}
}

func TestDemoHasNoFile(t *testing.T) {
	e := start(t, setup{demos: []Demo{demo(t)}})
	e.press("Down", "Down", "Enter")
	e.says("spring fitting")
	if e.m.doc.changed() {
		t.Error("the demo counts as not saved before anything was done")
	}
	e.press("space", "ctrl+s")
	e.says("spring-fitting.toml")
	e.press("Enter")
	if want := []string{"spring-fitting.toml"}; !slices.Equal(e.disk.saved, want) {
		t.Errorf("saved to %q, want %q", e.disk.saved, want)
	}
}

func TestNoticesOfTheFileAreTold(t *testing.T) {
	d := folder(t, "one.toml")
	d.notices = []string{"line 3: a control character was taken out", "line 9: another"}
	e := start(t, setup{disk: d})
	e.press("Enter")
	e.says("line 3: a control character was taken out")
}

// An error in a file shows whole, with the excerpt in its columns.
func TestWhatCantBeOpenedSaysWhy(t *testing.T) {
	d := folder(t, "one.toml")
	d.held["one.toml"] = []byte(strings.Replace(string(d.held["one.toml"]), "nape_width = 108", "nape_width = wide", 1))
	e := start(t, setup{disk: d})
	_, _, err := sheetfile.Decode("one.toml", d.held["one.toml"])
	if err == nil {
		t.Fatal("the file is right")
	}
	e.press("Enter")
	e.says("this can't be opened")
	for _, line := range strings.Split(strings.TrimPrefix(err.Error(), "underveil: "), "\n") {
		if len(line) < 70 {
			e.says(strings.TrimRight(line, " "))
		}
	}
	e.press("Enter")
	e.says("a new sheet")
}

// A write takes its time. What is done meanwhile is not taken for saved.
func TestEditWhileSaving(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.press("space")
	writing := e.deliver(mustKey(t, "ctrl+s"))
	e.press("Right", "space")
	e.run(writing)
	if !e.m.doc.changed() {
		t.Error("a bond placed while the sheet was being written counts as saved")
	}
	e.press("u")
	if e.m.doc.changed() {
		t.Error("with that bond taken back the sheet is as saved, and counts as not saved")
	}
}

func TestLeavingAfterAnEditWhileSavingAsksAgain(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.press("space", "q")
	writing := e.deliver(mustKey(t, "s"))
	e.press("Right", "space")
	e.run(writing)
	if e.quit {
		t.Fatal("a bond placed while the sheet was being written is lost")
	}
	e.says("not saved")
	e.press("s")
	if !e.quit || !strings.Contains(string(e.disk.held["sheet.toml"]), `bonds = "(a)a"`) {
		t.Errorf("left: %v, with\n%s", e.quit, e.disk.held["sheet.toml"])
	}
}

// The file of a sheet that was left while it was being written does not become the file of the next.
func TestOpeningAnotherWhileSaving(t *testing.T) {
	e := edit(t, plainSheet(t), setup{disk: folder(t, "other.toml")})
	e.press("space")
	writing := e.deliver(mustKey(t, "ctrl+s"))
	e.press("ctrl+o", "l", "Enter")
	e.says("sheet other.toml")
	other := string(e.disk.held["other.toml"])
	e.run(writing)
	e.press("space", "ctrl+s")
	if got := e.disk.saved; !slices.Equal(got, []string{"sheet.toml", "other.toml"}) {
		t.Errorf("written: %q", got)
	}
	if string(e.disk.held["other.toml"]) == other || !strings.Contains(string(e.disk.held["other.toml"]), "sheet other.toml") {
		t.Errorf("other.toml is\n%s", e.disk.held["other.toml"])
	}
}

func TestSaveErrorsLoseNothing(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	was := string(e.disk.held["sheet.toml"])
	e.disk.trouble = errors.New("there is no room on the disk")
	e.press("r")
	now := e.encoded()
	for _, keys := range [][]string{{"ctrl+s", "Esc"}, {"S", "n", "e", "w", "Enter", "Esc"}, {"q", "s", "Esc"}, {"ctrl+n", "s", "Esc"}, {"ctrl+o", "s", "Esc"}} {
		e.press(keys...)
		if e.quit || e.encoded() != now || !e.m.doc.changed() || e.m.doc.path != "sheet.toml" || len(e.m.dialogs) > 0 {
			t.Fatalf("after %q: %s", keys, e.state(plainSheet(t)))
		}
	}
	if string(e.disk.held["sheet.toml"]) != was {
		t.Error("the file was touched")
	}
	e.disk.trouble = nil
	e.press("ctrl+s")
	if string(e.disk.held["sheet.toml"]) != now || e.m.doc.changed() {
		t.Error("once there is room it can't be saved")
	}
}

func TestFileNames(t *testing.T) {
	for title, want := range map[string]string{
		"spring fitting": "spring-fitting.toml", "Zoë, 2nd": "zoë-2nd.toml", "../../etc/passwd": "etc-passwd.toml",
		"": "sheet.toml", "...": "sheet.toml", "a--b": "a-b.toml", `c:\x`: "c-x.toml", "CON  ": "con.toml",
	} {
		if got := fileName(title); got != want {
			t.Errorf("%q becomes %q, want %q", title, got, want)
		}
	}
}

func mustKey(t testing.TB, name string) tea.KeyMsg {
	t.Helper()
	msg, err := keyMsg(name)
	if err != nil {
		t.Fatal(err)
	}
	return msg
}

// A file that something else has written since it was opened is not written over unasked.
func TestAFileChangedElsewhereIsAskedAbout(t *testing.T) {
	d := folder(t, "one.toml")
	e := start(t, setup{disk: d})
	e.press("Enter", "space", "ctrl+s")
	e.says("saved to one.toml")
	elsewhere := append([]byte("# touched\n"), d.held["one.toml"]...)
	d.held["one.toml"] = elsewhere
	e.press("space", "ctrl+s")
	e.says("that file has changed")
	if string(d.held["one.toml"]) != string(elsewhere) {
		t.Error("it was written over")
	}
	e.press("r")
	e.says("saved to one.toml")
	e.press("space", "ctrl+s")
	e.says("saved to one.toml")
}

// A name that can't be opened or saved to stays in its field, to be mended.
func TestAWrongNameCanBeMended(t *testing.T) {
	d := folder(t, "one.toml")
	e := start(t, setup{disk: d})
	e.press("Enter", "ctrl+o")
	e.write("onw")
	e.press("Enter")
	e.says("this can't be opened")
	e.press("Esc")
	e.says("onw")
	e.press("Esc", "S")
	d.trouble = errors.New("there is no such folder")
	e.write("nowhere/two")
	e.press("Enter")
	e.says("there is no such folder")
	e.press("Esc", "S")
	e.says("nowhere/two.toml")
}
