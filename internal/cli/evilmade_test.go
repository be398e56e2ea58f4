package cli

import (
	"os"
	"path/filepath"
	"strings"

	"example.org/underveil/internal/sheetfile"
)

// recipes are files that are too long to be kept, by name.
var recipes = map[string]func() string{
	"rows":     func() string { return evilHead + strings.Repeat("[[row]]\nheight=60\nbonds=\"\"\n", 30000) },
	"shades":   func() string { return evilHead + strings.Repeat("[[shade]]\n", 100000) },
	"visits":   func() string { return evilBase + strings.Repeat("[[visit]]\n", 100000) },
	"accepts":  func() string { return evilBase + strings.Repeat("[[accept]]\n", 90000) },
	"steps":    func() string { return "format=1\ndemonstration=\"x\"\n" + strings.Repeat("[[step]]\n", 100000) },
	"strands":  func() string { return "format=1\ncurrency=\"EUR\"\n" + strings.Repeat("[[strand]]\n", 90000) },
	"brackets": func() string { return strings.Repeat("[", sheetfile.MaxSize) },
	"lists":    func() string { return "a=" + strings.Repeat("[", sheetfile.MaxSize-2) },
	"tables":   func() string { return "a=" + strings.Repeat("{a=", sheetfile.MaxSize/3-1) },
	"dots":     func() string { return strings.Repeat("a.", sheetfile.MaxSize/2-2) + "a=1" },
	"quotes":   func() string { return "a=" + strings.Repeat("'", sheetfile.MaxSize-2) },
	"escapes":  func() string { return `title="` + strings.Repeat(`\u001b[2J`, 100000) + `"` },
	"numbers":  func() string { return "a=[" + strings.Repeat("1,", sheetfile.MaxSize/2-3) + "]" },
	"digits":   func() string { return "a=" + strings.Repeat("9", sheetfile.MaxSize-2) },
	"title":    func() string { return strings.Replace(evilBase, "plain", strings.Repeat("x", 1000000), 1) },
	"marks":    func() string { return strings.Replace(evilBase, "plain", strings.Repeat("\u0301", 500000), 1) },
	"keys":     func() string { return strings.Repeat("k", sheetfile.MaxSize-2) + "=1" },
	"remarks":  func() string { return evilBase + strings.Repeat("#\n", 500000) },
	"lines":    func() string { return strings.Repeat("\n", sheetfile.MaxSize-10) + "x" },
	"dirty": func() string {
		return evilBase + strings.Repeat("[[keep_off]]\nwhy=\"\\u202e\"\n", 199) + strings.Repeat(" \n", 490000)
	},
	"blocks": func() string {
		return "format=1\nexercise=\"x\"\n[start]\n" + strings.Repeat("sheet='''\n'''\n", 70000)
	},
	"one-too":    func() string { return evilBase + strings.Repeat(" ", sheetfile.MaxSize+1-len(evilBase)) },
	"just-right": func() string { return evilBase + strings.Repeat(" ", sheetfile.MaxSize-len(evilBase)) },
}

// evilHead and evilBase are sheets that are as they should be, without rows and with one.
const evilHead = `format = 1
title = "plain"
hole_spacing = 12
line_gap = 20
head = {circumference = 560, ear_to_ear = 340, front_to_nape = 355, nape_width = 108}
`

const evilBase = evilHead + `shade = [{key = "a", name = "oat", length = 500, grams = 0.8, pack = 25}]
row = [{height = 60, bonds = "a.(a).a"}]
`

// madeFiles are files made of recipes, and what is no ordinary file.
func (e *evil) madeFiles() (files []string) {
	e.t.Helper()
	for name, make := range recipes {
		path := filepath.Join(e.home, "made-"+name+".toml")
		if err := os.WriteFile(path, []byte(make()), 0o600); err != nil {
			e.t.Fatal(err)
		}
		files = append(files, path)
	}
	folder := filepath.Join(e.home, "a-folder.toml")
	if err := os.Mkdir(folder, 0o700); err != nil {
		e.t.Fatal(err)
	}
	return append(append(files, folder, filepath.Join(e.home, "not-there.toml"), ""), e.oddFiles(e.home)...)
}

// namedFolder is a folder of sheets with names that a terminal would obey or nobody could read, where the disk takes them. Of each
// name there is a sheet that can be read and one that can't, and the folder is called no better.
func (e *evil) namedFolder() string {
	e.t.Helper()
	folder := filepath.Join(e.home, "named\x1b[2J\u202e")
	if os.Mkdir(folder, 0o700) != nil {
		folder = filepath.Join(e.home, "named")
		if err := os.Mkdir(folder, 0o700); err != nil {
			e.t.Fatal(err)
		}
	}
	made := 0
	for _, name := range []string{
		"new\nline", "esc\x1b[2J", "osc\x1b]0;x\a", "c1\u009b31m", "back\b\b\b\bwards", "return\rover", "\u202egnp", "iso\u2066late", "flood" + strings.Repeat("\u0301", 100),
		"\u0301alone", "zwj\u200d\u200d", "bytes\xff\xfe", strings.Repeat("n", 250), strings.Repeat("\u5c71", 83), "-rf", "--help", "=1+1", "@SUM(1)", "+1", " ", "\u3000", "...", "a;b",
		"$(reboot)", "`id`", "a'b\"c", "%s%n", "tab\tstop", "del\x7f", "\ufeffbom", "\u2028line", "\U000e0041tag", "<script>", "&lt;", ") Tj (", "CON", "nul", "~", "*", "?", "[a-z]",
	} {
		if os.WriteFile(filepath.Join(folder, name+".toml"), []byte(evilBase), 0o600) == nil {
			made++
		}
		_ = os.WriteFile(filepath.Join(folder, name+" .toml"), []byte("head = \"\x1b[2J"), 0o600)
	}
	if made < 15 {
		e.t.Fatalf("the disk takes %d of the names", made)
	}
	e.oddFiles(folder)
	return folder
}
