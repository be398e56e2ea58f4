package sheetfile

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
)

// openLesson opens a file of a kind that has sheets in it, as open does. What goes wrong after a sheet that ends too early is said to
// be that.
func openLesson(kind *schema, name string, data []byte) (table, *Error) {
	t, _, bad := open(kind, name, data)
	if bad == nil {
		t.heads = &Heads{}
		return t, nil
	}
	if d, _ := newDocument(kind, name, data); d != nil && bad.Line > 0 {
		if early := d.endsEarly(bad.Line); early != nil {
			return table{}, early
		}
	}
	return table{}, bad
}

// keyBefore is a key on a line, up to its value.
var keyBefore = regexp.MustCompile(`(?:^|\n)[ \t]*[\w"]+[ \t]*=[ \t]*$`)

// endsEarly says that the three quotes last seen before what is wrong on a line, or on it, end a sheet where a text in it was to
// begin; nil if they do not.
func (d *document) endsEarly(line int) *Error {
	upTo := len(d.text)
	if lines := strings.SplitAfterN(d.text, "\n", line+1); len(lines) > line {
		upTo -= len(lines[line])
	}
	var open, end int
	for at := 0; ; {
		next := strings.Index(d.text[at:upTo], literal)
		if next < 0 {
			return nil
		}
		open, at = at+next, at+next+len(literal)
		if next = strings.Index(d.text[at:upTo], literal); next < 0 {
			return nil
		}
		end, at = at+next, at+next+len(literal)
		if keyBefore.MatchString(d.text[open+len(literal) : end]) {
			break
		}
	}
	first, _ := d.lineAt(open)
	return d.fault(span{end, end + len(literal)}, "these quotes end the text that began on line "+plain(float64(first)),
		`within it write texts in "...", with \n where a new line begins`)
}

// kinds are the kinds of files, each with a key at the top that tells it.
var kinds = []struct{ key, called string }{
	{"head", "a head sheet"}, {"currency", "a studio file"}, {"demonstration", "a demonstration"}, {"exercise", "an exercise"},
	{"attempt", "an attempt at an exercise"}, {"limits_of", "a file of limits"}, {"keys", "a settings file"},
}

// isOther reports a file that is of another kind than a key tells; there is no use in going on with it.
func (t table) isOther(key, remedy string) bool {
	for _, k := range kinds {
		if t.has(k.key) && !t.has(key) {
			t.failHere("this is "+k.called+", not "+theKind(t.called), remedy)
			return true
		}
	}
	return false
}

// isKind sees to it that a file is of the kind that a key tells, as far as can be told.
func (t table) isKind(key, remedy string) bool {
	if t.isOther(key, remedy) {
		return false
	}
	if !t.has(key) && !t.has("format") && !t.misspelt(key) {
		t.failHere("this is not "+theKind(t.called)+": it has no format and no "+key, "is it another file?")
		return false
	}
	return true
}

// theKind is a kind of file with its article.
func theKind(called string) string {
	switch called[0] {
	case 'a', 'e':
		return "an " + called
	}
	return "a " + called
}

// isReadable sees to it that a file is of the kind that one of its keys tells, and of a format that can be read.
func (t table) isReadable(key string) bool { return t.isKind(key, t.naming) && t.isFormatNow() }

// needTop reports a key at the top that tells the kind of the file and is not there.
func (t table) needTop(key, problem string) {
	if !t.has(key) && !t.misspelt(key) {
		t.failHere(problem, "add the line "+t.sample("", key))
	}
}

// misspelt reports whether there is an unknown key for one that is not there, which is reported anyway.
func (t table) misspelt(name string) bool {
	known := t.keysIn[t.name]
	for key := range t.values {
		if !slices.Contains(known, key) && cmp.Or(t.otherwise[t.name][key], nearest(key, known)) == name {
			return true
		}
	}
	return false
}

// finish is what is wrong, in the order of the lines, or nil.
func (r *reader) finish() error {
	if len(r.errs) == 0 {
		return nil
	}
	r.errs.sort()
	return r.errs
}
