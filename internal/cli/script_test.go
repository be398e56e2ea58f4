package cli

import (
	"errors"
	"os"
	"os/exec"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain makes the program a command of the scripts.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"underveil": func() { os.Exit(Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs the commands as people and programs run them. Each script says in
// its first line what it shows.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("LANG", "C.UTF-8")
			e.Setenv("XDG_STATE_HOME", e.WorkDir+"/state")
			e.Setenv("XDG_CONFIG_HOME", e.WorkDir+"/config")
			e.Setenv("AppData", e.WorkDir+"/config") // on Windows
			return nil
		},
		Cmds:      map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
		Condition: func(name string) (bool, error) { return name == "root" && os.Geteuid() == 0, nil },
	})
}

// exits runs a command of a script and fails unless it ends with the code: exits 2 underveil check x.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command ...")
	}
	got := 0
	err := ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if want := args[0]; strconv.Itoa(got) != want {
		ts.Fatalf("exit code %d, want %s", got, want)
	}
}
