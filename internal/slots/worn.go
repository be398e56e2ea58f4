package slots

import (
	"fmt"
	"maps"
	"math"
	"sync"

	"example.org/underveil/internal/fall"
	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// hair is all of a sheet that the covers depend on, besides the ground. How thick the hair is
// has no say: covers are kept as mm of it.
type hair struct {
	length scalp.MM
	turns  map[sheet.Turn]scalp.Shift
	past   float64
	hang   fall.Times
	whorl  float64
}

func hairOf(s *sheet.Sheet) hair {
	h := hair{length: s.Hair.Length, turns: s.Turns}
	h.past, _ = s.Limit(sheet.LimitReach)
	h.whorl, _ = s.Limit(sheet.FigureWhorl)
	for i, weeks := range fall.Weeks {
		h.hang[i] = s.Hang(weeks)
	}
	return h
}

func (a hair) equal(b hair) bool {
	return a.length == b.length && a.past == b.past && a.hang == b.hang && a.whorl == b.whorl && maps.Equal(a.turns, b.turns)
}

// worn is the table of a ground with the hair of a sheet.
func (t *ground) worn(s *sheet.Sheet) (*Table, error) {
	w := &Table{ground: t, hair: hairOf(s), turns: map[sheet.Turn]scalp.Vec{}, ways: &ways{of: map[Way]*Worn{}}}
	for _, turn := range sheet.Turns {
		at, err := t.turnAt(turn, s.Turns[turn])
		if err != nil {
			return nil, err
		}
		w.turns[turn] = at
	}
	return w, nil
}

// Where the hair turns on an ordinary head. The whorl lies 62.5 mm behind the line from ear to ear over the
// top (Park 2014, the mean of 952 men), and in the middle, since the surveys do not agree to which side it
// goes. The others are common practice, no source: half of the hair is taken up from a little above the
// temple points, a low ponytail is tied over the nape and a high one at the crown.
const (
	whorlBehindTop  = 62.5
	sectionLevel    = 30 // mm above the widest level
	halfTieOverLine = 45 // up the midline from the section line
	lowTieHeight    = 45
	highTieBehind   = 55 // down the midline from the top of the head
)

// usual is the height of a turn on an ordinary head.
func (t *ground) usual(turn sheet.Turn) scalp.MM {
	section := t.Head.HeightAtLevel(sectionLevel)
	switch turn {
	case sheet.Whorl:
		return t.Head.TopHeight() - whorlBehindTop
	case sheet.HalfUpSection:
		return section
	case sheet.HalfUpTie:
		return section + halfTieOverLine
	case sheet.LowTie:
		return lowTieHeight
	default:
		return t.Head.TopHeight() - highTieBehind
	}
}

// turnAt is where a turn lies that has been moved.
func (t *ground) turnAt(turn sheet.Turn, by scalp.Shift) (scalp.Vec, error) {
	height := t.usual(turn) + by.Up
	low, high := scalp.MM(5), t.Head.FrontHeight()-20
	if turn == sheet.HalfUpSection {
		high = t.Head.TopHeight() - 30
	}
	if !(height >= low && height <= high) {
		return scalp.Vec{}, fmt.Errorf("the %s would lie at height %.0f: from %.0f to %.0f it is on the hair", turn, float64(height), float64(low), float64(high))
	}
	line := t.Head.LineAt(height)
	if !(by.Right >= line.Low && by.Right <= line.High) {
		return scalp.Vec{}, fmt.Errorf("the %s would lie %.0f mm right: the line at height %.0f goes from %.0f to %.0f mm", turn, float64(by.Right), float64(height), float64(line.Low), float64(line.High))
	}
	at := line.Point(by.Right)
	if !t.Zones.Hairline.Contains(at) {
		return scalp.Vec{}, fmt.Errorf("the %s would lie outside the hairline", turn)
	}
	return at, nil
}

// Turn is where a turn lies.
func (t *Table) Turn(turn sheet.Turn) scalp.Vec { return t.turns[turn] }

// Roots is how thickly the hair grows, place by place.
func (t *Table) Roots() *fibre.Field { return t.roots() }

// Way is one way in which hair lies over a bond: worn down with one of the partings, or half up, or up.
type Way struct {
	sheet.Wear
	Parting int // worn down: which one, by its place in the sheet
}

// Ways lists every way for a sheet, worn or not: down with each of its partings, or down from the whorl
// where it has none, and then half up and up.
func Ways(s *sheet.Sheet) []Way {
	ways := make([]Way, 0, len(s.Partings)+len(sheet.Wears))
	for i := range max(1, len(s.Partings)) {
		ways = append(ways, Way{sheet.WornDown, i})
	}
	return append(ways, Way{sheet.WornHalfUp, 0}, Way{sheet.WornLowTail, 0}, Way{sheet.WornHighTail, 0})
}

// In is the way in words, after "over it": "with the parting 30 mm right", "in a high ponytail".
func (w Way) In(s *sheet.Sheet) string {
	switch w.Wear {
	case sheet.WornHalfUp:
		return "worn half up"
	case sheet.WornLowTail, sheet.WornHighTail:
		return "in a " + string(w.Wear)
	}
	if w.Parting >= len(s.Partings) {
		return "worn down from the whorl"
	}
	return "worn down, " + s.Partings[w.Parting].String()
}

// Worn is the hair of a table worn one way, with what covers each slot so far as anybody asked. It may be
// read by several goroutines.
type Worn struct {
	fall.Style
	own   fall.Own
	mu    sync.Mutex
	lines map[*Line][]*fall.Cover
}

// Worn is the hair worn one way.
func (t *Table) Worn(w Way) *Worn {
	t.ways.mu.Lock()
	defer t.ways.mu.Unlock()
	worn, ok := t.ways.of[w]
	if !ok {
		worn = &Worn{Style: t.style(w), own: t.Own(), lines: map[*Line][]*fall.Cover{}}
		t.ways.of[w] = worn
	}
	return worn
}

// ways are those made so far.
type ways struct {
	mu sync.Mutex
	of map[Way]*Worn
}

// Cover is what lies over a slot of a line. It is worked out the first time that it is asked for.
func (w *Worn) Cover(line *Line, slot int) *fall.Cover {
	i := slot - line.First
	w.mu.Lock()
	made, ok := w.lines[line]
	if !ok {
		made = make([]*fall.Cover, len(line.Slots))
		w.lines[line] = made
	}
	c := made[i]
	w.mu.Unlock()
	if c != nil {
		return c
	}
	worked := w.At(line.Slots[i].Point, w.own)
	w.mu.Lock()
	made[i] = &worked
	w.mu.Unlock()
	return &worked
}

// Cover is what lies over a slot of a line, worn one way.
func (t *Table) Cover(w Way, line *Line, slot int) *fall.Cover { return t.Worn(w).Cover(line, slot) }

// Fill works out the covers at every slot of the map that has hair, on two goroutines.
func (t *Table) Fill(w Way) {
	t.inHalves(len(t.Lines), func(i int) {
		line, worn := t.Lines[i], t.Worn(w)
		for k := range line.Slots {
			if line.Slots[k].OnScalp {
				worn.Cover(line, line.First+k)
			}
		}
	})
}

// FillRows works out the covers of the bonds of some rows in some ways, on two goroutines: all that a
// check will ask for.
func (t *Table) FillRows(rows []sheet.Row, ways []Way) {
	t.inHalves(len(rows), func(i int) {
		line, err := t.Line(rows[i].Place)
		if err != nil {
			return
		}
		for slot := range rows[i].All() {
			if on := line.At(slot); on == nil || !on.OnScalp {
				continue
			}
			for _, w := range ways {
				t.Worn(w).Cover(line, slot)
			}
		}
	})
}

// inHalves does something for each of the numbers from 0 to n, on two goroutines.
func (*Table) inHalves(n int, do func(int)) {
	var wg sync.WaitGroup
	for half := range 2 {
		wg.Go(func() {
			for i := half; i < n; i += 2 {
				do(i)
			}
		})
	}
	wg.Wait()
}

// Own is what the covers take from the client's own hair and from the bonds in it.
func (t *Table) Own() fall.Own {
	return fall.Own{Length: t.hair.length, Past: scalp.MM(t.hair.past), Hang: t.hair.hang}
}

// style is the hair worn one way on this head.
func (t *Table) style(w Way) fall.Style {
	surface, whorl := &t.Head.Surface, scalp.MM(t.hair.whorl)
	st := fall.Style{Surface: surface, Roots: t.roots(), Section: math.Inf(1)}
	switch w.Wear {
	case sheet.WornHalfUp:
		section := t.turns[sheet.HalfUpSection]
		st.Section = section.Z
		st.Falls = fall.Ring(surface, t.Ring(section.Z))
		st.Tie = fall.Point(surface, t.turns[sheet.HalfUpTie], 0)
	case sheet.WornLowTail:
		st.Tie = fall.Point(surface, t.turns[sheet.LowTie], 0)
	case sheet.WornHighTail:
		st.Tie = fall.Point(surface, t.turns[sheet.HighTie], 0)
	default:
		crown := t.turns[sheet.Whorl]
		if w.Parting < len(t.Zones.Partings) {
			st.Falls = fall.Parting(surface, t.Zones.Partings[w.Parting].Points(), crown, whorl)
		} else {
			st.Falls = fall.Point(surface, crown, whorl)
		}
	}
	return st
}

// Ring is a level line once round the head, in steps of about 2.5 mm.
func (t *ground) Ring(level float64) []scalp.Vec {
	line := t.Head.Line(scalp.LineID{Kind: scalp.Level, At: t.Head.HeightAtLevel(level)})
	n := int(math.Ceil(float64(line.High) / 2.5))
	points := line.Walk(0, line.High/scalp.MM(n), -n, n)
	return points[:len(points)-1] // the last is the first again
}

// Taped reports whether the density of a sheet's hair comes from a ponytail's tape.
func Taped(s *sheet.Sheet) bool { return s.Hair.Ponytail > 0 && s.Hair.Count == 0 }

// OfTape is the density at the back of a head whose hair, tied, is so thick as the sheet says. It may be more than
// any head has.
func (t *Table) OfTape(s *sheet.Sheet) fibre.Density {
	packing, _ := s.Limit(sheet.FigurePacking)
	linear, _ := s.Limit(sheet.FigureFibre)
	return t.Roots().FromHairs(fibre.Tied(s.Hair.Ponytail, packing/100, fibre.Section(linear)))
}

// Density is how many hairs grow on a cm² at the back of the head, and how that is known: from a count,
// from a ponytail's tape, or by eye; or, where nobody has said, assumed. A tape that would be more than a head
// has is held to the most that one has: a tape read wrong must not hide a bond that shows.
func (t *Table) Density(s *sheet.Sheet) (d fibre.Density, how string) {
	switch {
	case s.Hair.Count > 0:
		return fibre.Density(s.Hair.Count), "counted"
	case Taped(s):
		d, how = t.OfTape(s), fmt.Sprintf("from a ponytail %.0f mm round", float64(s.Hair.Ponytail))
		if d > fibre.MostDensity {
			how += fmt.Sprintf(", which would be %.0f: held to the most that a head has; measure it again", float64(d))
			d = fibre.MostDensity
		}
		return d, how
	}
	if d, ok := fibre.ByEye(s.Hair.Density); ok {
		return d, s.Hair.Density + " by eye"
	}
	return fibre.Unsaid, "nobody said; assumed"
}
