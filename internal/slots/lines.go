package slots

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Why a place has no line: it lies between two lines of the map, or it would be one on a
// larger head.
var (
	ErrNoLine  = errors.New("no line of the map")
	ErrOffHead = fmt.Errorf("%w on this head", ErrNoLine)
)

// Line is the line of the map that a row at the place follows. Its error wraps
// ErrNoLine, and ErrOffHead as well where that is the reason, and says what would do.
func (t *ground) Line(at sheet.Place) (*Line, error) {
	if at.Along {
		return t.alongLine(at.At)
	}
	steps := float64(at.At / t.Gap)
	if !(math.Abs(steps-math.Round(steps)) < 1e-6) {
		return nil, fmt.Errorf("%w at %s: the lines are %g mm apart%s", ErrNoLine, at, float64(t.Gap), t.nearestTo(at.At))
	}
	// Not simply the steps-th: a line without hair is left out.
	i, _ := slices.BinarySearchFunc(t.Lines, at.At-t.Gap/2, func(l *Line, h scalp.MM) int { return cmp.Compare(l.ID.At, h) })
	if i < len(t.Lines) && math.Abs(float64(t.Lines[i].ID.At-at.At)) < 1e-6 {
		return t.Lines[i], nil
	}
	if len(t.Lines) == 0 {
		return nil, fmt.Errorf("%w at %s: the hairline leaves no hair", ErrOffHead, at)
	}
	return nil, fmt.Errorf("%w at %s: the lines go from height %g to %g", ErrOffHead, at, float64(t.Lines[0].ID.At), float64(t.Lines[len(t.Lines)-1].ID.At))
}

// nearestTo names the line nearest to a height: one that there is, whatever the height.
func (t *ground) nearestTo(height scalp.MM) string {
	if len(t.Lines) == 0 {
		return ""
	}
	near := t.Lines[0].ID.At
	for _, l := range t.Lines {
		if math.Abs(float64(l.ID.At-height)) <= math.Abs(float64(near-height)) { // the upper of two as near
			near = l.ID.At
		}
	}
	return fmt.Sprintf("; the nearest is at height %g", float64(near))
}

// Over is the place of the line some lines up from a place, or for a row front to back some lines
// to its right. Lines are counted, for adding up their gaps would miss one by the last digit. Its
// error is that of Line.
func (t *ground) Over(from sheet.Place, lines int) (sheet.Place, error) {
	step := t.Gap
	if from.Along {
		step = t.Spacing
	}
	n := int(math.Round(float64(from.At/step))) + lines
	line, err := t.Line(sheet.Place{Along: from.Along, At: scalp.MM(n) * step})
	if err != nil {
		return sheet.Place{}, err
	}
	return line.Place(), nil
}

// alongLine makes a front-to-back line the first time it is asked for.
func (t *ground) alongLine(at scalp.MM) (*Line, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if l, ok := t.along[at]; ok {
		return l, nil
	}
	steps := at / t.Spacing
	if !(math.Abs(float64(steps)-math.Round(float64(steps))) < 1e-6) {
		return nil, fmt.Errorf("%w %g mm from the midline: rows front to back lie a whole number of hole spacings (%g mm) from it", ErrNoLine, float64(at), float64(t.Spacing))
	}
	var l *Line
	if reach := t.Head.Measures.EarToEar / 2; at >= -reach && at <= reach {
		if over := t.Head.Line(scalp.LineID{Kind: scalp.Along, At: at}); over.High > 0 {
			l = t.slotsOf(over)
		}
	}
	if l == nil {
		return nil, fmt.Errorf("%w %g mm from the midline: that is beside the top", ErrOffHead, float64(at))
	}
	t.measure([]*Line{l})
	for i := range l.Slots {
		l.Drawn = append(l.Drawn, t.spotOf(l.Slots[i].Point))
	}
	t.along[at] = l
	return l, nil
}

// spotOf is where on the top of the map a point is drawn: on the ear-to-ear line
// nearest to it, in the slot nearest to it there.
func (t *ground) spotOf(p scalp.Vec) Spot {
	near := Spot{Line: t.round}
	least := math.Inf(1)
	for i := t.round; i < len(t.Lines); i++ {
		if d := math.Abs(t.Lines[i].Slots[0].Point.Y - p.Y); d < least {
			near.Line, least = i, d
		}
	}
	least = math.Inf(1)
	line := t.Lines[near.Line]
	for i := range line.Slots {
		if d := math.Abs(line.Slots[i].Point.X - p.X); d < least {
			near.Slot, least = line.First+i, d
		}
	}
	return near
}

// Place is where a row on the line lies.
func (l *Line) Place() sheet.Place {
	return sheet.Place{Along: l.ID.Kind == scalp.Along, At: l.ID.At}
}

// Round is the index in Lines of the first ear-to-ear line.
func (t *ground) Round() int { return t.round }

// Panel is a part of the head, in the order of fitting.
type Panel uint8

// The panels.
const (
	Back Panel = iota
	LeftSide
	RightSide
	Top
)

// String is the panel's name.
func (p Panel) String() string { return [...]string{"back", "left side", "right side", "top"}[p] }

// sideFrom is the azimuth at which back turns into side: behind the ear.
const sideFrom = 64

// PanelOf is the panel that a slot of a line is on.
func PanelOf(l *Line, s *Slot) Panel {
	switch az := s.Point.Azimuth(); {
	case l.ID.Kind != scalp.Level:
		return Top
	case az > sideFrom:
		return RightSide
	case az < -sideFrom:
		return LeftSide
	}
	return Back
}

// Index is the place of a line in Lines, or -1 for one that is not in it.
func (t *ground) Index(l *Line) int {
	return slices.Index(t.Lines, l)
}

// HairEnds are the outermost slots of the line that have hair.
func (l *Line) HairEnds() (first, last int) {
	first, last = l.First, l.Last()
	for first < last && !l.At(first).OnScalp {
		first++
	}
	for last > first && !l.At(last).OnScalp {
		last--
	}
	return first, last
}
