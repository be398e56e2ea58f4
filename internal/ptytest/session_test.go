//go:build unix

package ptytest

import (
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// shell runs a script; it needs a shell and the usual small programs.
func shell(t *testing.T, opts Options, script string) *Session {
	t.Helper()
	for _, program := range []string{"/bin/sh", "stty", "od", "dd"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skip(err)
		}
	}
	return Start(t, opts, "/bin/sh", "-c", script)
}

// rawKeys prints what each of n reads brings, as od writes it, and leaves the terminal as it was.
func rawKeys(n int) string {
	return fmt.Sprintf(`
		stty raw -echo
		printf 'ready\r\n'
		for i in $(seq %d); do
			printf '<%%s>' "$(dd bs=64 count=1 2>/dev/null | od -An -tx1 | tr -d ' \n')"
		done
		stty sane`, n)
}

func TestConversation(t *testing.T) {
	s := shell(t, Options{}, `printf 'your name? '; read name; printf '\033[1mgood day, %s\033[m\n' "$name"; exit 3`)
	s.WaitFor("your name?")
	if n := s.Press("Zoë", "Enter"); n != 4 {
		t.Errorf("%d keystrokes, want 4", n)
	}
	s.WaitFor("good day, Zoë")
	if code := s.Wait(); code != 3 {
		t.Errorf("exit code %d, want 3", code)
	}
	if !s.Term.Cell(0, 1).Bold {
		t.Error("the answer is not bold")
	}
	if got := s.Keystrokes(); got != 4 {
		t.Errorf("%d keystrokes in all, want 4", got)
	}
	wantOffences(t, s.Term)
}

func TestKeysAreReadOneByOne(t *testing.T) {
	s := shell(t, Options{}, rawKeys(8))
	s.WaitFor("ready")
	if n := s.Press("Esc", "jk", "Shift+Up", "é", "Ctrl+S") + s.Type("Up"); n != 8 {
		t.Errorf("%d keystrokes, want 8", n)
	}
	s.WaitFor("<1b><6a><6b><1b5b313b3241><c3a9><13><55><70>")
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

func TestMouse(t *testing.T) {
	s := shell(t, Options{}, `printf '\033[?1002h\033[?1006h'`+rawKeys(8))
	s.WaitFor("ready")
	s.Click(0, 0)
	s.Drag(2, 1, 4, 2)
	s.Wheel(9, 8, -1)
	s.Wheel(9, 8, 1)
	s.WaitScreen(func(screen *Terminal) bool { return strings.Count(screen.Text(), ">") == 8 }, "eight events")
	s.Wait()

	var want strings.Builder
	for _, event := range []string{
		"0;1;1M", "0;1;1m",
		"0;3;2M", "32;4;2M", "32;5;3M", "0;5;3m",
		"64;10;9M", "65;10;9M",
	} {
		fmt.Fprintf(&want, "<%x>", "\x1b[<"+event)
	}
	shown := strings.ReplaceAll(s.Term.Text(), "\n", "")
	if !strings.Contains(shown, want.String()) {
		t.Errorf("the program read %s, want %s", shown, want.String())
	}
	if s.Keystrokes() != 0 {
		t.Error("the mouse counts as keys")
	}
}

func TestPaste(t *testing.T) {
	s := shell(t, Options{}, rawKeys(1)+`; printf '\033[?2004h'`+rawKeys(1))
	s.WaitFor("ready")
	s.Paste("ab")
	s.WaitScreen(func(screen *Terminal) bool { return strings.Count(screen.Text(), "ready") == 2 }, "ready again")
	s.Paste("ab")
	s.Wait()
	s.WaitFor("<6162>")
	s.WaitFor("<1b5b3230307e61621b5b3230317e>")
}

func TestEnvironmentIsStated(t *testing.T) {
	t.Setenv("UNDERVEIL_TEST_LEAK", "1")
	s := shell(t, Options{Cols: 200, Env: []string{"TERM=dumb", "NO_COLOR=1"}, Rows: 40}, "env")
	s.Wait()
	var names []string
	for line := range strings.SplitSeq(s.Term.Text(), "\n") {
		name, value, _ := strings.Cut(line, "=")
		names = append(names, name)
		if name == "TERM" && value != "dumb" {
			t.Errorf("TERM is %q", value)
		}
		if (name == "HOME" || strings.HasPrefix(name, "XDG_")) && !strings.HasPrefix(value, os.TempDir()) {
			t.Errorf("%s is %q", name, value)
		}
	}
	for _, name := range []string{"TERM", "COLORTERM", "LANG", "HOME", "PATH", "NO_COLOR", "XDG_CONFIG_HOME", "XDG_STATE_HOME"} {
		if !slices.Contains(names, name) {
			t.Errorf("there is no %s", name)
		}
	}
	if slices.Contains(names, "UNDERVEIL_TEST_LEAK") {
		t.Error("the environment of the test leaks in")
	}
}

func TestWorkingFolder(t *testing.T) {
	dir := t.TempDir()
	s := shell(t, Options{Dir: dir, Cols: 200, Rows: 5}, "printf x > made-here")
	s.Wait()
	if _, err := os.Stat(dir + "/made-here"); err != nil {
		t.Error(err)
	}
}

func TestSize(t *testing.T) {
	s := shell(t, Options{Cols: 50, Rows: 11}, `
		stty size
		trap 'stty size; exit' WINCH
		echo ready
		while :; do sleep 0.05; done`)
	s.WaitFor("11 50")
	s.WaitFor("ready")
	s.Resize(60, 9)
	s.WaitFor("9 60")
	s.Wait()
	if cols, rows := s.Term.Size(); cols != 60 || rows != 9 {
		t.Errorf("the screen is %d by %d, want 60 by 9", cols, rows)
	}
}

func TestQuestions(t *testing.T) {
	const script = `stty raw -echo min 0 time 2; printf '\033[6n'; got=$(dd bs=64 count=1 2>/dev/null | od -An -tx1 | tr -d ' \n'); printf '<%s>' "$got"; stty sane`
	t.Run("are answered", func(t *testing.T) {
		s := shell(t, Options{}, script)
		s.WaitFor("<1b5b313b3152>")
		s.Wait()
		wantOffences(t, s.Term, `byte 0: control sequence "\x1b[6n"`)
	})
	t.Run("are not, by a mute terminal", func(t *testing.T) {
		s := shell(t, Options{Mute: true}, script)
		s.WaitFor("<>")
		s.Wait()
		wantOffences(t, s.Term, `byte 0: control sequence "\x1b[6n"`)
	})
}

func TestHalfAFrameIsNotShown(t *testing.T) {
	s := shell(t, Options{}, `
		stty -echo
		printf '\033[?2026hhalf'; read x
		printf '\r\033[Kwhole\033[?2026l'; read x`)
	for !strings.Contains(s.Term.Text(), "half") {
		select {
		case <-s.changed:
		case <-s.ended:
			t.Fatal("the program ended early")
		}
	}
	if s.look(func(*Terminal) bool { return true }) {
		t.Error("half a frame is shown")
	}
	s.Press("Enter")
	s.WaitFor("whole")
	s.Press("Enter")
	s.Wait()
}

func TestGone(t *testing.T) {
	s := shell(t, Options{}, `printf 'loading'; read x; printf '\033[H\033[2Jdone'; read x`)
	s.WaitFor("loading")
	s.Press("Enter")
	s.WaitGone("loading")
	s.WaitFor("done")
	s.Settle()
	if code := s.Quit("Enter"); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

func TestUnfinishedSequenceAtTheEnd(t *testing.T) {
	s := shell(t, Options{}, `printf 'a\033[1'`)
	s.Wait()
	wantOffences(t, s.Term, `byte 1: unfinished sequence "\x1b[1"`)
}

func TestAllOutputIsThereAtTheEnd(t *testing.T) {
	s := shell(t, Options{Cols: 20, Rows: 3}, `i=0; while [ $i -lt 5000 ]; do echo "line $i"; i=$((i+1)); done`)
	s.Wait()
	if got := s.Term.Text(); got != "line 4998\nline 4999\n" {
		t.Errorf("the last lines are %q", got)
	}
}

func TestSignal(t *testing.T) {
	s := shell(t, Options{}, `trap 'echo told; exit 7' TERM; echo ready; while :; do sleep 0.05; done`)
	s.WaitFor("ready")
	s.Signal(syscall.SIGTERM)
	s.WaitFor("told")
	if code := s.Wait(); code != 7 {
		t.Errorf("exit code %d, want 7", code)
	}
}

// A test that ends early must not leave its program running.
func TestProgramEndsWithItsTest(t *testing.T) {
	var s *Session
	t.Run("leaves early", func(t *testing.T) {
		s = shell(t, Options{}, `trap '' HUP TERM; echo ready; while :; do sleep 1; done`)
		s.WaitFor("ready")
	})
	if s == nil {
		t.Skip("no shell")
	}
	if s.cmd.ProcessState == nil || s.cmd.ProcessState.ExitCode() != -1 {
		t.Errorf("the program is in state %v, want killed", s.cmd.ProcessState)
	}
}

// failure catches what a session has to say when it ends a test.
type failure struct {
	testing.TB
	text string
}

func (f *failure) Helper() {}

func (f *failure) Fatalf(format string, args ...any) {
	f.text = fmt.Sprintf(format, args...)
	panic(f)
}

// failureOf runs do, which must end its test, and returns its message. The session can be used on.
func failureOf(t *testing.T, s *Session, do func()) (text string) {
	t.Helper()
	f := &failure{TB: s.t}
	s.t = f
	defer func() {
		s.t = f.TB
		if recover() == nil {
			t.Error("the test went on")
		}
		text = f.text
	}()
	do()
	return ""
}

func TestFailureShowsTheScreen(t *testing.T) {
	s := shell(t, Options{Cols: 12, Rows: 2}, `printf 'veil 山\n\a'; exit 1`)
	s.Wait()
	got := failureOf(t, s, func() { s.WaitFor("cover") })
	want := `the program ended before the screen showed "cover"
+------------+
|veil 山     |
|            |
+------------+
cursor: column 0, row 1, visible true
offence: byte 10: control character "\a"
`
	if got != want {
		t.Errorf("message\n%s, want\n%s", got, want)
	}
}

// What the screen showed before the last keys is no answer to them; what has come since is, though it stood there once before.
func TestAStaleScreenIsNoAnswer(t *testing.T) {
	s := shell(t, Options{Cols: 40, Rows: 8}, `stty -echo; echo ready; read key; echo "got $key"; read key; printf '\033[2J\033[Hgot %s' "$key"; read key; printf '\033[2J\033[Hready'`)
	s.WaitFor("ready")
	s.Press("1", "Enter")
	s.WaitFor("got 1")
	s.WaitFor("got") // of the same answer
	s.Press("2", "Enter")
	got := failureOf(t, s, func() { s.WaitFor("got") })
	if want := `the screen showed "got" before the last keys were pressed`; !strings.HasPrefix(got, want) {
		t.Errorf("message %q, want %q", got, want)
	}
	s.WaitFor("got 2")
	s.Press("Enter")
	s.WaitFor("ready")
}

func TestMouseNobodyAskedFor(t *testing.T) {
	s := shell(t, Options{}, "exit")
	s.Wait()
	if got := failureOf(t, s, func() { s.Click(1, 1) }); !strings.HasPrefix(got, "the program does not listen to the mouse\n") {
		t.Errorf("message %q", got)
	}
}
