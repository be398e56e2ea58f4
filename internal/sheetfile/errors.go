package sheetfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/printable"
)

// Error is one thing that is wrong with a file. All its text is safe to show.
type Error struct {
	File      string
	Line, Col int    // from 1, Col counted in characters; both 0 when it is about the file as a whole
	Source    string // the line
	Width     int    // characters of the line that are meant, from Col
	Problem   string
	Remedy    string // what to do

	cause error
}

// Error is the whole message: where and what, the line with a caret under what is meant, and what to do.
func (e *Error) Error() string {
	if e.Line == 0 {
		return fmt.Sprintf("underveil: %s: %s; %s", e.File, e.Problem, e.Remedy)
	}
	number := fmt.Sprintf("%4d", e.Line)
	source, carets := excerpt(e.Source, e.Col, e.Width)
	return fmt.Sprintf("underveil: %s\n%s | %s\n%*s | %s\n  %s",
		e.brief(), number, source, len(number), "", carets, e.Remedy)
}

// brief is the error in one line.
func (e *Error) brief() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Col, e.Problem)
}

// Unwrap is the error of the system behind this one, or nil.
func (e *Error) Unwrap() error { return e.cause }

// newError makes an error about a file as a whole.
func newError(file, problem, remedy string, cause error) *Error {
	if file == "" {
		file = "(no name)"
	}
	return &Error{File: printable.Line(file), Problem: printable.Line(problem), Remedy: printable.Line(remedy), cause: cause}
}

// Errors is all that is wrong with a file, in the order of its lines. Decode and Load return no other kind of error.
type Errors []*Error

// moreErrors is how many errors are listed after the first, and mostErrors how many are looked for.
const (
	moreErrors = 8
	mostErrors = 100
)

// Error is the first error in full and the next few in a line each.
func (es Errors) Error() string {
	if len(es) == 0 {
		return "no error"
	}
	var b strings.Builder
	b.WriteString(es[0].Error())
	more := es[1:]
	if len(more) == 0 {
		return b.String()
	}
	fmt.Fprintf(&b, "\nand %d more", len(more))
	if len(more) > moreErrors {
		fmt.Fprintf(&b, ", of which the first %d", moreErrors)
		more = more[:moreErrors]
	}
	b.WriteString(":")
	for _, e := range more {
		b.WriteString("\n  " + e.brief())
	}
	return b.String()
}

// Brief is what is wrong in one line, without the name of the file: "line 3: ... (and 2 more)".
func (es Errors) Brief() string {
	if len(es) == 0 {
		return "no error"
	}
	text := es[0].Problem
	if es[0].Line > 0 {
		text = fmt.Sprintf("line %d: %s", es[0].Line, text)
	}
	if more := len(es) - 1; more > 0 {
		text += fmt.Sprintf(" (and %d more)", more)
	}
	return text
}

// Unwrap gives the errors one by one to errors.Is and errors.As.
func (es Errors) Unwrap() []error {
	all := make([]error, len(es))
	for i, e := range es {
		all[i] = e
	}
	return all
}

func (es Errors) sort() {
	slices.SortStableFunc(es, func(a, b *Error) int { return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col)) })
}

// Notice tells of something that was put right on reading.
type Notice struct {
	Line int
	Text string // safe to show
}
