package visit

import (
	"cmp"
	"fmt"
	"iter"
	"maps"
	"slices"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Kind is a kind of piece of hair: of a shade, whole or half.
type Kind struct {
	Shade byte
	Split bool
}

// CameOut is how many pieces of each kind were taken out in the n-th visit. Those that were lost did not come out.
func CameOut(s *sheet.Sheet, n int) map[Kind]int {
	out := map[Kind]int{}
	in := In(s, n)
	for at, mark := range s.Visits[n].Seen {
		if h, ok := in[at]; ok && mark == sheet.TakenOut {
			out[Kind{h.Shade, h.Split}]++
		}
	}
	return out
}

// Recut is a strand after so much was cut off it: shorter, and lighter in step.
func Recut(h sheet.Shade, cut scalp.MM) sheet.Shade {
	left := max(0, h.Length-cut)
	if h.Length > 0 {
		h.Grams *= float64(left / h.Length)
	}
	h.Length = left
	return h
}

// Retipped is the kind of strand that one becomes that came out and got a new tip, under another letter.
func Retipped(h sheet.Shade, cut scalp.MM, key byte) sheet.Shade {
	was := h.Key
	h = Recut(h, cut)
	h.Key, h.Was = key, was
	h.Used++
	h.Retipped++
	return h
}

// Forgiven is by how much a strand may be shorter than what the client wishes for before it is told: a blending cut takes off as
// much. Common practice, no source.
const Forgiven scalp.MM = 20

// Promised is how long strands should be for what the client wishes for, and whether a strand is shorter by more than Forgiven.
func Promised(s *sheet.Sheet, h sheet.Shade) (length scalp.MM, short bool) {
	length = s.StrandLength()
	return length, h.Length < length-Forgiven
}

// Resolve records what became of the strands that came out in the n-th visit. Of each kind that was re-tipped or halved
// a shade is added to the sheet, unless there is one that is the same but for its letter. Its error says what does not add up: each piece that came
// out is re-tipped, halved, kept or thrown away.
func Resolve(s *sheet.Sheet, n int, outcomes []sheet.Outcome) (*sheet.Sheet, error) {
	left := CameOut(s, n)
	var kept []sheet.Outcome
	for _, o := range outcomes {
		kind := Kind{o.Shade, o.Split}
		h, ok := s.Shade(o.Shade)
		if !ok {
			return nil, fmt.Errorf("there is no shade %c on the sheet", o.Shade)
		}
		if have := left[kind]; o.Pieces() != have {
			return nil, fmt.Errorf("%s: %s came out, and %d are accounted for", Name(s, kind), printable.Count(have, "piece"), o.Pieces())
		}
		if min(o.Retipped, o.Halved, o.Kept, o.Thrown) < 0 {
			return nil, fmt.Errorf("%s: fewer than no pieces", Name(s, kind))
		}
		if o.Split && o.Halved > 0 {
			return nil, fmt.Errorf("%s: a half is not halved again", Name(s, kind))
		}
		if delete(left, kind); o.Pieces() == 0 {
			continue
		}
		o.Into = 0
		if o.Retipped+o.Halved > 0 {
			after := Retipped(h, o.Cut, 0)
			if o.Cut < 0 || after.Length < sheet.MinLength || after.Grams < sheet.MinGrams {
				return nil, fmt.Errorf("%s: %g mm cannot be cut off; a strand has at least %g mm and %g g", Name(s, kind), float64(o.Cut), float64(sheet.MinLength), sheet.MinGrams)
			}
			var err error
			if s, o.Into, err = withKind(s, after); err != nil {
				return nil, err
			}
		} else {
			o.Cut = 0
		}
		kept = append(kept, o)
	}
	for kind, n := range left {
		if n > 0 {
			return nil, fmt.Errorf("%s: %s came out, and nothing says what became of them", Name(s, kind), printable.Count(n, "piece"))
		}
	}
	return Change(s, n, func(v *sheet.Visit) { v.Strands = kept }), nil
}

// withKind is the sheet with a shade like the one given, and its letter.
func withKind(s *sheet.Sheet, h sheet.Shade) (*sheet.Sheet, byte, error) {
	for _, have := range s.Shades {
		h.Key = have.Key
		if have == h {
			return s, h.Key, nil
		}
	}
	if h.Key = s.FreeKey(); h.Key == 0 {
		return nil, 0, fmt.Errorf("all 26 letters for shades are taken, so there is none for %q re-tipped; put them by or throw them away, or go on with a new sheet", h.Name)
	}
	return s.With(func(c *sheet.Sheet) { c.Shades = append(slices.Clone(c.Shades), h) }), h.Key, nil
}

// Name is a kind of piece in words: "oat, 500 mm, halves".
func Name(s *sheet.Sheet, k Kind) string {
	h, _ := s.Shade(k.Shade)
	name := fmt.Sprintf("%s, %.4g mm", h.Name, float64(h.Length))
	if k.Split {
		name += ", halves"
	}
	return name
}

// Pieces is a number of pieces of one shade.
type Pieces struct{ Whole, Half int }

// Halves is how many halves the pieces make.
func (p Pieces) Halves() int { return 2*p.Whole + p.Half }

// take takes bonds out of the pieces: a split bond a half where there is one, or else half of a whole one. It goes below
// zero where there are too few.
func (p *Pieces) take(whole, split int) {
	p.Whole -= whole
	p.Half -= split
	if p.Half < 0 && p.Whole > 0 {
		opened := min(p.Whole, (1-p.Half)/2)
		p.Whole -= opened
		p.Half += 2 * opened
	}
}

// Drawer are the re-used strands that are at hand after all visits, by shade: those that came out and got new tips, less those
// that were bonded in since.
func Drawer(s *sheet.Sheet) map[byte]Pieces {
	drawer := map[byte]Pieces{}
	for _, v := range s.Visits {
		for _, o := range v.Strands {
			p := drawer[o.Into]
			if o.Split {
				p.Half += o.Retipped
			} else {
				p.Whole += o.Retipped
				p.Half += 2 * o.Halved
			}
			if o.Into != 0 {
				drawer[o.Into] = p
			}
		}
		for key, used := range ByShade(sheet.BondsOf(v.Fitted)) {
			if h, ok := s.Shade(key); ok && h.Used > 0 {
				p := drawer[key]
				p.take(used.Whole, used.Half)
				drawer[key] = p
			}
		}
	}
	return drawer
}

// ByShade counts bonds by shade, whole ones and split ones.
func ByShade(bonds iter.Seq[sheet.Bond]) map[byte]Pieces {
	by := map[byte]Pieces{}
	for b := range bonds {
		p := by[b.Shade]
		if b.Split {
			p.Half++
		} else {
			p.Whole++
		}
		by[b.Shade] = p
	}
	return by
}

// Missing is how many pieces of each re-used shade the plan takes beyond those at hand: wholes, and halves that are left
// to take when the wholes are taken. While a fitting is open, what it has bonded counts as at hand.
func Missing(s *sheet.Sheet) map[byte]Pieces {
	drawer := Drawer(s)
	if n, open := Open(s); open {
		if !s.Visits[n].Kind.Fits() || len(Unseen(s, n)) > 0 || !Resolved(s, n) {
			return nil // nothing is to be fitted, or not yet: it waits for what will come out
		}
		for key, used := range ByShade(sheet.BondsOf(s.Visits[n].Fitted)) {
			if p, ok := drawer[key]; ok {
				p.Whole += used.Whole
				p.Half += used.Half
				drawer[key] = p
			}
		}
	} else if last := s.LastVisit(); len(Now(s)) > 0 || last != nil && last.Kind == sheet.Removal && s.Date <= last.Date {
		return nil // the plan is in the head already, or was taken out and no other fitting is planned
	}
	missing := map[byte]Pieces{}
	for key, wanted := range ByShade(sheet.BondsOf(s.Rows)) {
		h, ok := s.Shade(key)
		if !ok || h.Used == 0 {
			continue
		}
		p := drawer[key]
		p.take(wanted.Whole, wanted.Half)
		if p.Whole < 0 || p.Half < 0 {
			missing[key] = Pieces{Whole: max(0, -p.Whole), Half: max(0, -p.Half)}
		}
	}
	return missing
}

// Resolved reports whether it is recorded of every strand that came out in the n-th visit what became of it.
func Resolved(s *sheet.Sheet, n int) bool {
	left := CameOut(s, n)
	for _, o := range s.Visits[n].Strands {
		left[Kind{o.Shade, o.Split}] -= o.Pieces()
	}
	for _, pieces := range left {
		if pieces != 0 {
			return false
		}
	}
	return true
}

// Proposed is what would become of the strands that came out in the n-th visit if all were cut back as far as usual and given
// new tips.
func Proposed(s *sheet.Sheet, n int) []sheet.Outcome {
	cut, _ := s.Limit(sheet.FigureRetip)
	var list []sheet.Outcome
	out := CameOut(s, n)
	for _, kind := range sorted(out) {
		list = append(list, sheet.Outcome{Shade: kind.Shade, Split: kind.Split, Retipped: out[kind], Cut: scalp.MM(cut)})
	}
	return list
}

// sorted are the kinds of some pieces, by letter, wholes before halves.
func sorted(pieces map[Kind]int) []Kind {
	return slices.SortedFunc(maps.Keys(pieces), func(a, b Kind) int {
		switch {
		case a.Shade != b.Shade:
			return cmp.Compare(a.Shade, b.Shade)
		case a.Split == b.Split:
			return 0
		case b.Split:
			return -1
		}
		return 1
	})
}

// Reuse is the sheet with its plan made to take the re-used strands at hand, as far as they go, in the order of the map: each bond
// takes a strand that was of its shade before, or one of its shade itself, or another that once was the same new strand; and where none
// of these is left, a new one of that. A whole bond takes a whole strand, a split one a half where there is one.
func Reuse(s *sheet.Sheet) *sheet.Sheet {
	drawer := Drawer(s)
	for _, r := range s.Rows {
		changes := map[int]sheet.Bond{}
		for slot, b := range r.All() {
			if key := takeFor(s, b, drawer); key != b.Shade {
				b.Shade = key
				changes[slot] = b
			}
		}
		if len(changes) > 0 {
			s = s.WithBonds(r.Place, changes)
		}
	}
	return s
}

// takeFor takes the strand for a bond out of the drawer, and is its shade.
func takeFor(s *sheet.Sheet, b sheet.Bond, drawer map[byte]Pieces) byte {
	first := New(s, b.Shade)
	wanted := []func(h sheet.Shade) bool{
		func(h sheet.Shade) bool { return h.Was == b.Shade },
		func(h sheet.Shade) bool { return h.Key == b.Shade },
		func(h sheet.Shade) bool { return New(s, h.Key) == first },
	}
	for _, is := range wanted {
		for _, h := range s.Shades {
			have := drawer[h.Key]
			if h.Used == 0 || !is(h) || have.Halves() <= 0 || !b.Split && have.Whole <= 0 {
				continue
			}
			if b.Split {
				have.take(0, 1)
			} else {
				have.take(1, 0)
			}
			drawer[h.Key] = have
			return h.Key
		}
	}
	return first
}

// New is the shade that a re-used strand was when it was new, or the shade itself. A file may lead round in a circle.
func New(s *sheet.Sheet, key byte) byte {
	for range s.Shades {
		h, ok := s.Shade(key)
		if _, known := s.Shade(h.Was); !ok || h.Used == 0 || !known {
			break
		}
		key = h.Was
	}
	return key
}
