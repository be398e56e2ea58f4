package ptytest

import (
	"fmt"
	"io"
	"strings"
)

// typed hands out a line at a time, and writes down each as it does.
type typed struct {
	lines []string
	rest  string
	to    io.Writer
}

// Typed is an input that has a line for each read, and writes "> " and the line to where the answers go: so that what was typed and what was
// answered stand there in their order.
func Typed(lines []string, to io.Writer) io.Reader { return &typed{lines: lines, to: to} }

func (t *typed) Read(p []byte) (int, error) {
	if t.rest == "" {
		if len(t.lines) == 0 {
			return 0, io.EOF
		}
		fmt.Fprintln(t.to, strings.TrimRight("> "+t.lines[0], " "))
		t.rest, t.lines = t.lines[0]+"\n", t.lines[1:]
	}
	n := copy(p, t.rest)
	t.rest = t.rest[n:]
	return n, nil
}

// LinesTyped are the lines of a session written down so that were typed.
func LinesTyped(session string) []string {
	var lines []string
	for l := range strings.Lines(session) {
		l = strings.TrimRight(l, "\n")
		if l == ">" {
			lines = append(lines, "")
		} else if rest, ok := strings.CutPrefix(l, "> "); ok {
			lines = append(lines, rest)
		}
	}
	return lines
}
