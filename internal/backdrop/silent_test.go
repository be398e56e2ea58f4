//go:build unix

package backdrop_test

import (
	"bytes"
	"os"
	"testing"

	"example.org/underveil/internal/ptytest"
)

// This test program links Bubble Tea, so run without any test on a terminal that never answers it shows what init
// functions write. Without this package the question for the background would be the first bytes.
func TestNothingIsAsked(t *testing.T) {
	s := ptytest.Start(t, ptytest.Options{Mute: true}, os.Args[0], "-test.run=^$")
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d, want 0", code)
	}
	if raw := s.Term.Raw(); bytes.IndexByte(raw, '\x1b') >= 0 {
		t.Errorf("the terminal was asked something before main: %q", raw)
	}
}
