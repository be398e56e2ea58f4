//go:build unix

package ptytest

import (
	"runtime"
	"strings"
	"testing"
	"time"
)

// A program that says so many words at its start, and so many to a line typed.
func TestMeter(t *testing.T) {
	const atStart, answer = "what is there to be seen", "an answer"
	m := StartMeter(t, Options{Cols: 40, Rows: 5}, "sh", "-c", "stty -echo; sleep 0.05; printf '"+atStart+"'; read x; printf '"+answer+"'; read x")
	first := m.FirstFrame(len(strings.ReplaceAll(atStart, " ", "")), 50*time.Millisecond)
	if first.Bytes != len(atStart) || first.Last < 50*time.Millisecond {
		t.Errorf("first frame %+v, want %d bytes, after the program has slept", first, len(atStart))
	}
	if reply := m.Press("x", 20*time.Millisecond); reply != (Reply{}) {
		t.Errorf("a letter that is not echoed gives %+v", reply)
	}
	if reply := m.Press("Enter", 500*time.Millisecond); reply.Bytes != len(answer) || reply.Last <= 0 {
		t.Errorf("the line gives %+v, want %d bytes", reply, len(answer))
	}
	if got, want := m.Term.Row(0), atStart+answer; got != want {
		t.Errorf("the screen shows %q, want %q", got, want)
	}
	if runtime.GOOS == "linux" {
		memory, err := m.Memory()
		if err != nil || memory < 100<<10 || memory > 1<<30 {
			t.Errorf("memory %d, %v", memory, err)
		}
		if cpu, err := m.CPU(); err != nil || cpu <= 0 {
			t.Errorf("processor %v, %v", cpu, err)
		}
	}
	m.Stop()
	m.Stop()
}
