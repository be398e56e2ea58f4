package sheetfile

import (
	"fmt"
	"strconv"
	"strings"
)

// path names a key or an element of a list by all that it lies in.
type path string

// Neither byte occurs in UTF-8, so that no key can be mistaken for a path.
const (
	keyMark  = "\xff"
	itemMark = "\xfe"
)

const root path = ""

func (p path) key(k string) path { return p + keyMark + path(k) }
func (p path) item(i int) path   { return p + itemMark + path(strconv.Itoa(i)) }

func (p path) parent() path {
	return p[:max(0, strings.LastIndexByte(string(p), keyMark[0]), strings.LastIndexByte(string(p), itemMark[0]))]
}

// last is the key that a path ends in, empty for an element of a list.
func (p path) last() string {
	end := string(p[len(p.parent()):])
	if key, ok := strings.CutPrefix(end, keyMark); ok {
		return key
	}
	return ""
}

// place is where a key and its value stand. Of a table with a header, the value is the header; of an element of a list
// both are the element.
type place struct {
	key, value span
	plain      bool // the value is a string on one line without escapes, so that its bytes are those of the text
	firm       bool // the key may not come again
}

type places map[path]place

// find is where a path stands, or else what it lies in; the whole file is its first line.
func (p places) find(at path) place {
	for ; at != root; at = at.parent() {
		if found, ok := p[at]; ok {
			return found
		}
	}
	return p[root]
}

// trouble is why a text cannot be read at all.
type trouble struct {
	at              span
	problem, remedy string
}

// Bounds of what the locator reads. A text within them takes the TOML reader, which gets it next, no time and no stack
// to speak of; without them one of a megabyte could hang or crash it.
const (
	maxDepth = 16    // lists and tables in one another
	maxParts = 8     // names of a dotted key
	maxKey   = 100   // bytes of a name
	maxItems = 20000 // keys and elements of lists
)

// locator finds every key and value of a TOML text. It follows the structure of the text (strings, lists, tables) and
// leaves to the TOML reader what the values mean.
type locator struct {
	*document
	at     int
	places places
	count  map[path]int  // of the tables with a header in double brackets, by name, so far
	single map[path]span // the headers in single brackets of what should have double ones
	remark int           // where the first remark is that is lost on saving, or -1
	items  int
}

// locate finds every key and value, and the first remark that is lost on saving (-1 for none), or says why the text is
// not TOML.
func (d *document) locate() (found places, remark int, err *trouble) {
	first, _, _ := strings.Cut(d.text, "\n")
	line := span{0, len(first)}
	l := &locator{document: d, places: make(places, min(2*strings.Count(d.text, "\n"), 4000)), count: map[path]int{}, single: map[path]span{}, remark: -1}
	l.places[root] = place{key: line, value: line}
	here := root
	for {
		l.blank()
		var err *trouble
		switch l.peek() {
		case 0:
			return l.places, l.remark, nil
		case '[':
			here, err = l.header()
		default:
			err = l.entry(here, 0)
		}
		if err == nil {
			err = l.endOfLine()
		}
		if err != nil {
			return nil, 0, err
		}
	}
}

// header reads [name] or [[name]] and is the path of the table that it opens.
func (l *locator) header() (path, *trouble) {
	start, marks := l.at, 1
	if strings.HasPrefix(l.text[l.at:], "[[") {
		marks = 2
	}
	l.at += marks
	l.space()
	parts, err := l.keyParts()
	if err != nil {
		return root, err
	}
	end := strings.Repeat("]", marks)
	if !strings.HasPrefix(l.text[l.at:], end) {
		if err := l.lookalike(l.at); err != nil {
			return root, err
		}
		return root, &trouble{span{start, l.at}, "this header is not closed with " + end,
			"write it like " + l.like.headers + " for what comes more than once"}
	}
	l.at += marks
	p, last, err := l.into(root, parts)
	if err != nil {
		return root, err
	}
	found := place{key: last.at, value: span{start, l.at}}
	if err := l.bracketsOf(p, marks, found.value); err != nil {
		return root, err
	}
	if marks == 2 {
		if err := l.record(p, found); err != nil {
			return root, err
		}
		if err := l.mostOf(p, l.count[p], found.value); err != nil {
			return root, err
		}
		l.count[p]++
		p = p.item(l.count[p] - 1)
	}
	found.firm = true
	return p, l.record(p, found)
}

// bracketsOf refuses a header in single brackets of what may come several times, as soon as there is a second header
// of it; a single one that is alone leaves a text that can be read, and is reported with all else.
func (l *locator) bracketsOf(p path, marks int, at span) *trouble {
	name, known := l.tableAt(p)
	if !known || l.most[name] == 0 {
		return nil
	}
	first, again := l.single[p]
	switch {
	case again:
		at = first
	case marks == 2:
		return nil
	case l.count[p] == 0:
		l.single[p] = at
		return nil
	}
	problem, remedy := l.oneOfSeveral(name)
	return &trouble{at, problem, remedy}
}

// into goes from a table along the parts of a key, noting the tables on the way, to the path of the last part. A name
// of tables with double brackets means the last of them.
func (l *locator) into(p path, parts []part) (path, part, *trouble) {
	last := parts[len(parts)-1]
	for _, part := range parts[:len(parts)-1] {
		p = p.key(part.name)
		if err := l.record(p, place{key: part.at, value: part.at}); err != nil {
			return root, last, err
		}
		if n := l.count[p]; n > 0 {
			p = p.item(n - 1)
		}
	}
	return p.key(last.name), last, nil
}

// mostOf refuses the n-th table of a name, counted from 0, when that is more than anybody needs.
func (l *locator) mostOf(p path, n int, at span) *trouble {
	name := strings.TrimPrefix(string(p), keyMark)
	if limit := l.most[name]; limit > 0 && n >= limit && p.parent() == root {
		return &trouble{at, fmt.Sprintf("more than %d of %s: no %s needs so many", limit, l.heading(name), l.of),
			"is it another file, or was something pasted many times?"}
	}
	return nil
}

// entry reads key = value in a table.
func (l *locator) entry(table path, depth int) *trouble {
	parts, err := l.keyParts()
	if err != nil {
		return err
	}
	if err := l.lookalike(l.at); err != nil {
		return err
	}
	if c := l.peek(); c > '~' {
		return &trouble{span{l.at, l.at + 1}, "a key has no such letter", "the letters of a key are a to z, with digits, _ and -"}
	}
	if l.peek() != '=' {
		if err := l.spacedKey(table, parts[0].at.from); err != nil {
			return err
		}
		return &trouble{span{parts[0].at.from, parts[len(parts)-1].at.to}, "after a key comes = and its value",
			"write it like " + l.like.number + ", and put # before a remark"}
	}
	l.at++
	l.space()
	p, last, err := l.into(table, parts)
	if err != nil {
		return err
	}
	value, plain, err := l.value(p, depth)
	if err != nil {
		return err
	}
	return l.record(p, place{key: last.at, value: value, plain: plain, firm: true})
}

// record notes where something stands, and refuses a second value for the same key.
func (l *locator) record(p path, at place) *trouble {
	old, known := l.places[p]
	if known && old.firm && at.firm {
		line := 1 + strings.Count(l.text[:old.key.from], "\n")
		name := l.text[at.key.from:at.key.to]
		return &trouble{at.key, fmt.Sprintf("%s is given twice; the first is on line %d", name, line), "keep one of the two"}
	}
	if l.items++; l.items > maxItems {
		return &trouble{at.key, "there is far more here than " + theKind(l.called) + " holds", "is it another file?"}
	}
	if !known || at.firm {
		l.places[p] = at
	}
	return nil
}

// endOfLine sees to it that nothing but a remark follows on the line.
func (l *locator) endOfLine() *trouble {
	l.space()
	switch l.peek() {
	case 0, '\n', '\r', '#':
		return nil
	}
	if err := l.lookalike(l.at); err != nil {
		return err
	}
	rest := l.restOfLine()
	remedy := "write one key = value a line, and put # before a remark"
	switch {
	case rest[0] == ',' && isDigit(l.text[l.at-1]):
		remedy = "write decimals with a point, like 0.8, and a list in brackets, like [3, -2]"
	case rest[0] != ',' && strings.Contains(rest, `"`):
		remedy = `write \" for a quotation mark within a text`
	}
	return &trouble{span{l.at, l.at + len(rest)}, "this does not belong after the value", remedy}
}
