//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// A pipe, or a link to a device without an end, in the place of anything that the program reads by itself keeps nobody waiting.
func TestNothingThatIsReadIsWaitedFor(t *testing.T) {
	e := evilHome(t)
	for i, odd := range []func(string) error{
		func(at string) error { return syscall.Mkfifo(at, 0o600) },
		func(at string) error { return os.Symlink("/dev/zero", at) },
		func(at string) error { return os.Symlink(filepath.Base(at), at) },
		func(at string) error { return os.Mkdir(at, 0o700) },
	} {
		for n, name := range []string{"config/underveil/studio.toml", "config/underveil/settings.toml", "state/underveil/recent", "state/underveil/unsaved/1-00000001-1.log",
			"state/underveil/unsaved", "state/underveil/learners/ml/first-row.toml", "state/underveil/learners", "state/underveil/earlier", "state/underveil"} {
			if testing.Short() && (i+n)%5 > 0 {
				continue
			}
			at := filepath.Join(e.home, name)
			if err := os.MkdirAll(filepath.Dir(at), 0o700); err != nil {
				t.Fatal(err)
			}
			if err := odd(at); err != nil {
				t.Fatal(err)
			}
			for _, args := range [][]string{{"settings"}, {"system"}, {"studio"}, {"progress"}, {"keys"}, {"earlier", evilFolder + "/folder/formula.toml"}, {"show", evilFolder + "/folder/formula.toml"}} {
				e.read(args...)
			}
			e.dialogue(evilFolder+"/folder/formula.toml", "title x", "undo", "leave")
			e.dialogue("", "?", "leave")
			remember(at)
			if got := recentSheets(); len(got) > 0 && name == "state/underveil/recent" {
				t.Errorf("%s gives recent sheets: %q", name, got)
			}
			if got := stamp(at); got != "" {
				t.Errorf("%s has a stamp", name)
			}
			if err := os.RemoveAll(filepath.Join(e.home, "state")); err != nil {
				t.Fatal(err)
			}
			if err := os.RemoveAll(filepath.Join(e.home, "config")); err != nil {
				t.Fatal(err)
			}
		}
	}
}
