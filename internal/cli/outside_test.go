package cli

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// source is one Go file of ours that is in the program.
type source struct {
	name    string // package and file
	file    *ast.File
	imports map[string]string // the path of each package by the name that it has in the file
	at      *token.FileSet
}

// ourSources are the files of ours that are in the program on one of the systems that it is built for.
func ourSources(t *testing.T) (all []source) {
	t.Helper()
	seen := map[string]bool{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		list := exec.Command("go", "list", "-deps", "-json=ImportPath,Dir,GoFiles,CgoFiles,Module", "example.org/underveil/cmd/underveil")
		list.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		out, err := list.Output()
		if err != nil {
			t.Fatal(err)
		}
		for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
			var pkg struct {
				ImportPath, Dir   string
				GoFiles, CgoFiles []string
			}
			if err := d.Decode(&pkg); err != nil {
				t.Fatal(err)
			}
			if !strings.HasPrefix(pkg.ImportPath, "example.org/underveil/") {
				continue
			}
			if len(pkg.CgoFiles) > 0 {
				t.Errorf("%s has C in it", pkg.ImportPath)
			}
			for _, name := range pkg.GoFiles {
				path := filepath.Join(pkg.Dir, name)
				if !seen[path] {
					seen[path] = true
					all = append(all, parsed(t, strings.TrimPrefix(pkg.ImportPath, "example.org/underveil/")+"/"+name, path))
				}
			}
		}
	}
	if len(all) < 100 {
		t.Fatalf("there are %d files", len(all))
	}
	return all
}

func parsed(t *testing.T, name, path string) source {
	t.Helper()
	s := source{name: name, imports: map[string]string{}, at: token.NewFileSet()}
	var err error
	if s.file, err = parser.ParseFile(s.at, path, nil, parser.SkipObjectResolution); err != nil {
		t.Fatal(err)
	}
	for _, i := range s.file.Imports {
		full, _ := strconv.Unquote(i.Path.Value)
		as := full[strings.LastIndex(full, "/")+1:]
		if i.Name != nil {
			as = i.Name.Name
		}
		s.imports[as] = full
	}
	return s
}

// mentioned are the names of other packages that a file mentions, like os.Getenv, each with the calls of it.
func (s source) mentioned(f func(name string, call *ast.CallExpr)) {
	calls := map[ast.Expr]*ast.CallExpr{}
	ast.Inspect(s.file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			calls[n.Fun] = n
		case *ast.SelectorExpr:
			if of, ok := n.X.(*ast.Ident); ok && s.imports[of.Name] != "" {
				f(s.imports[of.Name]+"."+n.Sel.Name, calls[n])
			}
		}
		return true
	})
}

// Nothing of ours reaches for a network, another program or code from elsewhere.
func TestNoNetworkAndNoOtherPrograms(t *testing.T) {
	forbidden := []string{"net", "os/exec", "plugin", "unsafe", "C", "log/syslog", "expvar", "github.com/atotto/clipboard", "github.com/aymanbagabas/go-osc52/v2"}
	names := []string{"os.StartProcess", "syscall.Exec", "syscall.ForkExec", "syscall.StartProcess", "syscall.Socket", "syscall.Connect", "golang.org/x/sys/unix.Exec",
		"golang.org/x/sys/unix.Socket", "golang.org/x/sys/unix.Connect", "golang.org/x/sys/windows.CreateProcess", "golang.org/x/sys/windows.ShellExecute",
		"github.com/charmbracelet/bubbletea.Exec", "github.com/charmbracelet/bubbletea.ExecProcess", "github.com/charmbracelet/bubbles/textinput.Paste",
		"github.com/charmbracelet/bubbletea.SetWindowTitle", "github.com/muesli/termenv.Copy", "github.com/muesli/termenv.Notify", "github.com/muesli/termenv.Hyperlink"}
	for _, s := range ourSources(t) {
		for _, path := range s.imports {
			if slices.Contains(forbidden, path) || strings.HasPrefix(path, "net/") || strings.HasPrefix(path, "golang.org/x/net") {
				t.Errorf("%s imports %s", s.name, path)
			}
		}
		s.mentioned(func(name string, _ *ast.CallExpr) {
			if slices.Contains(names, name) {
				t.Errorf("%s mentions %s", s.name, name)
			}
		})
		for _, group := range s.file.Comments {
			for _, c := range group.List {
				if strings.HasPrefix(c.Text, "//go:linkname") {
					t.Errorf("%s links to what is not its own: %s", s.name, c.Text)
				}
			}
		}
	}
}

// environment are the names of the environment that are read, by the files that do so. Libraries read more: TERM, COLORTERM, NO_COLOR, CLICOLOR,
// CLICOLOR_FORCE and CI for the colours, HOME, AppData and XDG_CONFIG_HOME for the folders.
var environment = map[string][]string{
	"internal/backdrop/backdrop.go":   {"UNDERVEIL_BACKGROUND", "COLORFGBG"},
	"internal/backdrop/why.go":        {"UNDERVEIL_BACKGROUND", "COLORFGBG"},
	"internal/cli/look.go":            {"LC_ALL", "LC_CTYPE", "LANG", "CI", "NO_COLOR", "TERM", "COLORTERM"},
	"internal/cli/recent.go":          {"XDG_STATE_HOME"},
	"internal/cli/system_folders.go":  {"XDG_STATE_HOME"},
	"internal/cli/system_terminal.go": {"TERM"},
}

// The environment is read by these names alone. Where one is given by a variable, all texts of the file that look like names are taken for it.
func TestEnvironmentThatIsRead(t *testing.T) {
	for _, s := range ourSources(t) {
		reads := false
		s.mentioned(func(name string, call *ast.CallExpr) {
			switch name {
			case "os.Environ", "os.ExpandEnv", "os.Expand", "os.Setenv", "os.Clearenv", "syscall.Environ", "syscall.Getenv":
				t.Errorf("%s mentions %s", s.name, name)
			case "os.Getenv", "os.LookupEnv":
				reads = true
			}
		})
		if !reads {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if text, ok := n.(*ast.BasicLit); ok && text.Kind == token.STRING {
				if name, _ := strconv.Unquote(text.Value); looksLikeAName(name) && !slices.Contains(environment[s.name], name) {
					t.Errorf("%s reads %s of the environment, which is not in the list", s.name, name)
				}
			}
			return true
		})
		if environment[s.name] == nil {
			t.Errorf("%s reads the environment, and is not in the list", s.name)
		}
	}
}

func looksLikeAName(text string) bool {
	return len(text) > 1 && text[0] >= 'A' && strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_") == ""
}

// Files are made for their owner's eyes alone, folders too, wherever that is done; and the TOML reader, which goes down into lists in lists without an
// end, is handed only what was looked through before.
func TestFilesAreMadeForTheirOwner(t *testing.T) {
	makes := 0
	for _, s := range ourSources(t) {
		s.mentioned(func(name string, call *ast.CallExpr) {
			mode := -1
			switch name {
			case "os.Create", "os.WriteFile", "os.CreateTemp", "os.MkdirTemp", "os.Mkdir", "os.MkdirAll", "os.OpenFile", "example.org/underveil/internal/filelock.Open":
				if call == nil {
					t.Errorf("%s mentions %s without a call", s.name, name)
					return
				}
			}
			switch name {
			case "os.Create", "os.MkdirTemp":
				t.Errorf("%s calls %s, whose mode depends on the umask", s.name, name)
			case "os.WriteFile", "os.OpenFile", "example.org/underveil/internal/filelock.Open":
				mode = 0o600
			case "os.Mkdir", "os.MkdirAll":
				mode = 0o700
			case "github.com/BurntSushi/toml.Decode", "github.com/BurntSushi/toml.DecodeFile", "github.com/BurntSushi/toml.Unmarshal", "github.com/BurntSushi/toml.NewDecoder":
				if s.name != "internal/sheetfile/syntax.go" {
					t.Errorf("%s calls %s", s.name, name)
				}
			}
			if mode < 0 {
				return
			}
			last := call.Args[len(call.Args)-1]
			if lit, ok := last.(*ast.BasicLit); ok {
				if got, _ := strconv.ParseInt(lit.Value, 0, 32); int(got) == mode || got == 0 {
					makes++
					return
				}
			} else if _, named := last.(*ast.Ident); named && strings.HasPrefix(s.name, "internal/filelock/") { // which is handed on
				return
			}
			t.Errorf("%s: %s is called with a mode other than %#o", s.at.Position(call.Pos()), name, mode)
		})
	}
	if makes < 8 {
		t.Errorf("%d places make files or folders", makes)
	}
}

// What is in the environment comes into no file and no output, but for what the list of settings of the terminal tells on purpose.
func TestEnvironmentStaysOutside(t *testing.T) {
	e := evilHome(t)
	secret := func(name string) string { return "canary-" + strings.ToLower(name) + "-7f3a" }
	for _, name := range []string{"USER", "LOGNAME", "HOSTNAME", "SHELL", "EDITOR", "PAGER", "SSH_CONNECTION", "SSH_AUTH_SOCK", "DISPLAY", "WAYLAND_DISPLAY", "TMUX", "STY",
		"LS_COLORS", "MAIL", "HTTP_PROXY", "HTTPS_PROXY", "TERM_PROGRAM", "VTE_VERSION", "WT_SESSION", "API_TOKEN", "PASSWORD", "PATH", "COLORTERM", "COLORFGBG",
		"TERM", "LC_CTYPE", "UNDERVEIL_BACKGROUND", "TZ"} {
		t.Setenv(name, secret(name))
	}
	t.Setenv("LANG", "canary-lang-7f3a.UTF-8")
	shown := []string{"TERM", "COLORTERM", "LC_CTYPE", "LANG"} // by system, and of settings what was found by them
	sheet := evilFolder + "/folder/formula.toml"
	e.put("work/a.toml", sheet)
	at := filepath.Join(e.home, "work/a.toml")
	for _, args := range [][]string{{"--help"}, {"--version"}, {"keys"}, {"man"}, {"settings"}, {"settings", "write"}, {"system"}, {"studio"}, {"studio", "write"}, {"check", at},
		{"show", at}, {"why", at}, {"order", at}, {"card", at}, {"card", at, "--to", at + ".pdf"}, {"card", at, "--to", at + ".svg"}, {"visit", at}, {"due", e.home},
		{"stock", e.home}, {"mark", "first-row", e.home}, {"progress"}, {"exercise"}, {"exercise", "new", at, "--to", at + ".exercise.toml"}, {"demonstrate"}, {"rules"},
		{"licences"}, {"completion", "bash"}, {"no-such-command"}, {at + "$USER"}, {"show", "${API_TOKEN}"}} {
		r := e.run("", args...)
		text := r.out + r.err
		if args[0] == "system" || args[0] == "settings" {
			for _, name := range shown {
				text = strings.ReplaceAll(text, secret(name), "")
			}
		}
		if i := strings.Index(text, "canary"); i >= 0 {
			t.Errorf("%q tells of the environment: %q", r.name, text[max(0, i-40):min(len(text), i+40)])
		}
	}
	e.dialogue(at, "title $USER ${API_TOKEN} %PATH%", "place", "save", "place")
	err := filepath.WalkDir(e.home, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if strings.Contains(string(data), "canary") {
			t.Errorf("%s has something of the environment in it", path)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}
