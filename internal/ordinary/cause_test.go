package ordinary

import (
	"errors"
	"fmt"
	"io/fs"
	"testing"
)

func TestCause(t *testing.T) {
	first := errors.New("no space left")
	for _, err := range []error{first, fmt.Errorf("saving: %w", first), fmt.Errorf("saving: %w", &fs.PathError{Op: "write", Path: "/secret", Err: first})} {
		if got := Cause(err); got != first {
			t.Errorf("%v: %v", err, got)
		}
	}
}
