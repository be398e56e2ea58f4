package tui

import "os"

// longestPaste is how many bytes of a paste are taken: all that a field has room for. The terminal library keeps a paste until
// its end has come, and looks for that in all of it with every 256 bytes, so that one of ten megabytes would take minutes.
const longestPaste = 16 << 10

// What a terminal sends before and after a paste.
const (
	pasteBegins = "\x1b[200~"
	pasteEnds   = "\x1b[201~"
)

// keyboard is the input of the editor, in which a paste ends after longestPaste bytes.
type keyboard struct {
	*os.File
	pastes pastes
}

// Read reads what was typed. It may be nothing, where all of it was the rest of a paste.
func (k *keyboard) Read(to []byte) (int, error) {
	n, err := k.File.Read(to)
	if n < 0 {
		return n, err
	}
	return k.pastes.cut(to[:n]), err
}

// pastes cuts pastes in a stream of bytes, wherever reading parts it.
type pastes struct {
	within bool // between the two marks
	match  int  // how many bytes of the mark that comes next have just come
	taken  int  // bytes of the paste so far
	ending int  // how much of the mark at its end was put in place of what is too much
}

// cut takes away what is too much, in place, and returns how many bytes are left. The first bytes that are too much become the
// mark at the end of the paste, of which some may have come just before; the last are that mark itself, so there are enough.
func (p *pastes) cut(b []byte) int {
	kept := 0
	keep := func(c byte) {
		b[kept] = c
		kept++
	}
	for _, c := range b {
		before := p.match
		whole := p.comes(c)
		if !p.within {
			keep(c)
			p.within = whole
			p.taken, p.ending = 0, 0
			continue
		}
		switch p.taken++; {
		case p.taken <= longestPaste:
			keep(c)
		default:
			if p.taken == longestPaste+1 {
				p.ending = before
			}
			if p.ending < len(pasteEnds) {
				keep(pasteEnds[p.ending])
				p.ending++
			}
		}
		p.within = !whole
	}
	return kept
}

// comes takes the next byte, and reports whether it is the last one of the mark that is looked for.
func (p *pastes) comes(c byte) bool {
	mark := pasteBegins
	if p.within {
		mark = pasteEnds
	}
	switch {
	case c == mark[p.match]:
		p.match++
	case c == mark[0]:
		p.match = 1
	default:
		p.match = 0
	}
	if p.match < len(mark) {
		return false
	}
	p.match = 0
	return true
}
