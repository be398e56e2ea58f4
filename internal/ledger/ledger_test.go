package ledger

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/underveil/assets"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

// read all the names of the sheets in a folder.
func namesIn(t *testing.T, folder string) (names []string, sheets int, unread []Unread) {
	t.Helper()
	sheets, unread, err := Each(folder, func(file string, s *sheet.Sheet) (string, bool) { return file, s.Title != "quiet" },
		func(name string) { names = append(names, name) })
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(names)
	return names, sheets, unread
}

func TestEachReadsSheetsAlone(t *testing.T) {
	folder, outside := t.TempDir(), t.TempDir()
	s := oats(t, nil)
	for _, name := range []string{"a.toml", "B.TOML", "in/c.toml", "in/deep/d.toml", ".hidden/e.toml"} {
		write(t, folder, name, s)
	}
	write(t, folder, "quiet.toml", s.With(func(c *sheet.Sheet) { c.Title = "quiet" }))
	write(t, outside, "out.toml", s)
	write(t, folder, "a.toml.bak", s)
	write(t, folder, "toml", s)
	writeText(t, folder, "studio.toml", string(assets.Studio))
	writeText(t, folder, "odd-studio.toml", "format = 1\ncurrency = \"XXXX\"\n[[strand]]\nlength = -3\n")
	writeText(t, folder, "tool.toml", "[package]\nname = \"x\"\n")
	writeText(t, folder, "broken.toml", "format = 1\n[head]\ncircumference = \n")
	writeText(t, folder, "in/empty.toml", "")
	writeText(t, folder, "in/wrong.toml", "format = 1\nwish = [\"beauty\"]\n[head]\ncircumference = 560\near_to_ear = 340\nfront_to_nape = 355\nnape_wide = 108\n")
	if err := os.Mkdir(filepath.Join(folder, "folder.toml"), 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, folder, "folder.toml/f.toml", s)
	for name, to := range map[string]string{"link.toml": "a.toml", "out.toml": filepath.Join(outside, "out.toml"), "outside": outside, "round": folder, "nowhere.toml": "none"} {
		if err := os.Symlink(to, filepath.Join(folder, name)); err != nil {
			t.Skip(err) // not everybody may on every system
		}
	}
	names, sheets, unread := namesIn(t, folder)
	var want []string
	for _, name := range []string{".hidden/e.toml", "B.TOML", "a.toml", "folder.toml/f.toml", "in/c.toml", "in/deep/d.toml"} {
		want = append(want, filepath.Join(folder, filepath.FromSlash(name)))
	}
	if !slices.Equal(names, want) || sheets != len(want)+1 {
		t.Errorf("%d sheets, of which %q\nwant %q", sheets, names, want)
	}
	if len(unread) != 3 {
		t.Fatalf("%+v", unread)
	}
	for i, says := range []string{"broken.toml: line 3: ", "empty.toml: the file is empty", "wrong.toml: line 2: "} {
		if got := unread[i].File + ": " + unread[i].Why; !strings.Contains(got, says) {
			t.Errorf("%q says nothing of %q", got, says)
		}
	}
	if !strings.HasSuffix(unread[2].Why, " (and 1 more)") {
		t.Errorf("%q", unread[2].Why)
	}

	link := filepath.Join(outside, "link")
	if err := os.Symlink(folder, link); err != nil {
		t.Fatal(err)
	}
	if through, _, _ := namesIn(t, link); len(through) != len(names) || !strings.HasPrefix(through[0], link) {
		t.Errorf("through a link: %q", through)
	}
}

// What a name holds is not obeyed by a terminal.
func TestUnreadIsSafeToShow(t *testing.T) {
	folder := t.TempDir()
	writeText(t, folder, "a\x1b[2Jb\n.toml", "format = 1\n[head]\n\x1b = 3\n")
	_, _, unread := namesIn(t, folder)
	if len(unread) != 1 || !printable.Clean(unread[0].File) || !printable.Clean(unread[0].Why) {
		t.Errorf("%q", unread)
	}
}

func TestEachWhereThereIsNoFolder(t *testing.T) {
	folder := t.TempDir()
	writeText(t, folder, "file.toml", "")
	for name, says := range map[string]string{filepath.Join(folder, "none"): "no such folder", filepath.Join(folder, "file.toml"): "is a file; name the folder", "": "no such folder"} {
		_, _, err := Each(name, func(string, *sheet.Sheet) (int, bool) { return 0, true }, func(int) {})
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want an error that says %q", name, err, says)
		}
	}
	if os.Geteuid() == 0 {
		return // who may look into everything
	}
	shut := filepath.Join(folder, "shut")
	if err := os.Mkdir(shut, 0); err != nil {
		t.Fatal(err)
	}
	if _, _, unread := namesIn(t, folder); len(unread) != 2 || !strings.Contains(unread[1].Why, "permission denied") {
		t.Errorf("%+v", unread)
	}
}

// However many are read at once, every sheet is taken once, and none while another is.
func TestEachTakesOneAtATime(t *testing.T) {
	folder := t.TempDir()
	n := fewer(400, 60)
	manyClients(t, folder, n)
	taken, busy := map[string]int{}, 0
	sheets, unread, err := Each(folder, func(file string, s *sheet.Sheet) (string, bool) { return s.Client, true }, func(client string) {
		busy++ // the race detector would see two at a time
		taken[client]++
		busy--
	})
	if err != nil || unread != nil || sheets != n || len(taken) != n || busy != 0 {
		t.Errorf("%d sheets, %d clients, %v, %v", sheets, len(taken), unread, err)
	}
}

// In whatever order sheets come to be read, the list and the sums are the same.
func TestLinesDoNotDependOnTheOrder(t *testing.T) {
	folder := t.TempDir()
	manyClients(t, folder, fewer(120, 30))
	house := func(s *sheet.Sheet) *sheet.Sheet { return s }
	first, _, err := Due(folder, day("2026-07-01"), true, house)
	if err != nil {
		t.Fatal(err)
	}
	stock, _, err := StockOf(folder, day("2026-07-01"), day("2026-08-01"), &studio.Studio{})
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		again, _, _ := Due(folder, day("2026-07-01"), true, house)
		if !slices.Equal(first.Lines, again.Lines) {
			t.Fatal("the list is not the same again")
		}
		more, _, _ := StockOf(folder, day("2026-07-01"), day("2026-08-01"), &studio.Studio{})
		if stock.Text(80) != more.Text(80) {
			t.Fatalf("the sums are not the same again:\n%s\n%s", stock.Text(80), more.Text(80))
		}
	}
}
