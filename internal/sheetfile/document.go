package sheetfile

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"example.org/underveil/internal/printable"
)

// span is a piece of a text, as byte offsets.
type span struct{ from, to int }

// document is the text of a file, with its kind, and the name of the file, for messages.
type document struct {
	*schema
	file   string
	text   string
	source map[int]string // lines already made safe to show, by the offset at which they begin
}

// newDocument takes bytes for text, or says why they are none.
func newDocument(kind *schema, name string, data []byte) (*document, *Error) {
	d := &document{schema: kind, file: name, source: map[int]string{}}
	const save = "save it as UTF-8 text and try again"
	switch {
	case len(data) > MaxSize:
		return nil, tooLong(kind, name, int64(len(data)))
	case bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")):
		return nil, newError(name, "the text is in UTF-16", save, nil)
	}
	d.text = string(bytes.TrimPrefix(data, []byte("\ufeff")))
	if zero := strings.IndexByte(d.text, 0); zero >= 0 {
		return nil, newError(name, "this is not text", kind.another(), nil)
	}
	if strings.TrimSpace(d.text) == "" {
		return nil, newError(name, "the file is empty", kind.naming, nil)
	}
	if bad := firstInvalid(d.text); bad >= 0 {
		return nil, d.fault(span{bad, bad + 1}, fmt.Sprintf("byte 0x%02x is not UTF-8", d.text[bad]), save)
	}
	return d, nil
}

func tooLong(kind *schema, name string, size int64) *Error {
	problem := fmt.Sprintf("the file has %d bytes, and no %s has more than %d", size, kind.called, MaxSize)
	if size <= 0 {
		problem = fmt.Sprintf("the file has more than the %d bytes of the longest %s", MaxSize, kind.called)
	}
	return newError(name, problem, kind.another(), nil)
}

// another is what to do about a file that is of no kind at all.
func (s *schema) another() string {
	kind := theKind(s.called)
	return "is it another file? " + strings.ToUpper(kind[:1]) + kind[1:] + " is a TOML file"
}

func firstInvalid(s string) int {
	for i, r := range s {
		if r == utf8.RuneError && !strings.HasPrefix(s[i:], "\uFFFD") {
			return i
		}
	}
	return -1
}

// lineAt is the number of the line that holds an offset, and where it begins.
func (d *document) lineAt(offset int) (number, start int) {
	before := d.text[:offset]
	return strings.Count(before, "\n") + 1, strings.LastIndexByte(before, '\n') + 1
}

// fault makes an error about a piece of the text. Only what is on the first line of the piece gets a caret.
func (d *document) fault(at span, problem, remedy string) *Error {
	e := newError(d.file, problem, remedy, nil)
	at.from = min(max(at.from, 0), len(d.text))
	line, start := d.lineAt(at.from)
	raw := d.text[start:]
	if end := strings.IndexByte(raw, '\n'); end >= 0 {
		raw = raw[:end]
	}
	raw = strings.TrimSuffix(raw, "\r")
	from := min(at.from-start, len(raw))
	for from > 0 && from < len(raw) && !utf8.RuneStart(raw[from]) { // the TOML reader may point into a character
		from--
	}
	to := min(max(at.to-start, from), len(raw))
	if _, ok := d.source[start]; !ok {
		d.source[start] = printable.Line(raw) // rune for rune, since there is no line break in it
	}
	e.Line, e.Source = line, d.source[start]
	e.Col = utf8.RuneCountInString(raw[:from]) + 1
	e.Width = max(1, utf8.RuneCountInString(raw[from:to]))
	return e
}
