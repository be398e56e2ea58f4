// Package slots is the slot table: for every slot of the map, all that the
// rules look up about its place on the head.
//
// Distances depend on the measures, the hairline, the partings, the patches, the spacing of the map
// and the depth of the fringe alone, so they are made when one of those changes. What covers a slot depends
// on the way the hair is worn besides, and is made slot by slot as it is asked for. A bond
// that is placed only looks things up.
package slots

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sync"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Slot is one slot and what is near it. Distances are along the scalp and, for
// a slot with hair, never negative, but for Fringe.
type Slot struct {
	Point   scalp.Vec
	OnScalp bool       // inside the hairline
	Nape    scalp.MM   // from the hairline at the nape
	Ear     scalp.MM   // from the hairline round the nearer ear
	Temple  scalp.MM   // from the hairline at the nearer temple
	Front   scalp.MM   // from the hairline between the recession corners
	Fringe  scalp.MM   // outside the fringe triangle; negative inside it, infinite without one
	Part    scalp.MM   // from the nearest parting; infinite when there is none
	KeepOff []scalp.MM // from the middle of each keep-off patch
	Hang    float64    // the azimuth of the line straight down through it, degrees
}

// Edge is the distance to the hairline, wherever it is nearest.
func (s *Slot) Edge() scalp.MM { return min(s.Nape, s.Ear, s.Temple, s.Front) }

// Line is one line of the map with its slots, left to right (or back to front).
type Line struct {
	*scalp.Line
	First int // number of Slots[0]
	Slots []Slot
	Drawn []Spot // of a front-to-back line: where on the map each slot is drawn
}

// Spot is a place on the map: a line by its index in Table.Lines, and a slot.
type Spot struct{ Line, Slot int }

// At is a slot of the line, or nil where the line does not reach.
func (l *Line) At(slot int) *Slot {
	if i := slot - l.First; i >= 0 && i < len(l.Slots) {
		return &l.Slots[i]
	}
	return nil
}

// Last is the number of the line's last slot.
func (l *Line) Last() int { return l.First + len(l.Slots) - 1 }

// Table is the slot table of one head and its hair. It may be read by several goroutines.
type Table struct {
	*ground
	hair  hair
	turns map[sheet.Turn]scalp.Vec
	ways  *ways
}

// ground is the part of a table that the hair has no say in.
type ground struct {
	Head  *scalp.Head
	Zones *scalp.Zones
	Lines []*Line // of the map, from the nape up over the top to the front

	Spacing scalp.MM // between slots
	Begin   scalp.MM // of slot 0 from the middle of its line: nothing, or half a spacing
	Gap     scalp.MM // between lines
	round   int      // index of the first ear-to-ear line

	from     inputs
	measured bool // false for an Outline
	mu       sync.Mutex
	along    map[scalp.MM]*Line
	gaps     map[linePair][]scalp.MM
	curves   map[*Line]scalp.Curve
	roots    func() *fibre.Field
}

// inputs is all of a sheet that the ground depends on.
type inputs struct {
	measures     scalp.Measures
	moved        map[scalp.Landmark]scalp.Shift
	spacing, gap scalp.MM
	aside        bool
	fringeDepth  float64
	partings     []scalp.Parting
	keepOff      []sheet.KeepOff
}

func inputsOf(s *sheet.Sheet) inputs {
	depth, _ := s.Limit(sheet.LimitFringeDepth)
	return inputs{s.Measures, s.Moved, s.HoleSpacing, s.LineGap, s.Aside, depth, s.Partings, s.KeepOff}
}

func (a inputs) equal(b inputs) bool {
	return a.measures == b.measures && a.spacing == b.spacing && a.gap == b.gap && a.aside == b.aside && a.fringeDepth == b.fringeDepth &&
		maps.Equal(a.moved, b.moved) && slices.Equal(a.partings, b.partings) && slices.Equal(a.keepOff, b.keepOff)
}

// For returns the slot table of a sheet: the given one when nothing that it
// depends on has changed (nil always builds). Errors say which measure or point
// does not fit.
func For(s *sheet.Sheet, have *Table) (*Table, error) {
	from := inputsOf(s)
	if have != nil && have.measured && have.from.equal(from) {
		if have.hair.equal(hairOf(s)) {
			return have, nil
		}
		return have.ground.worn(s)
	}
	g, err := outline(from)
	if err != nil {
		return nil, err
	}
	t, err := g.worn(s)
	if err == nil {
		g.measure(g.Lines)
		g.measured = true
	}
	return t, err
}

// Outline is the slot table of a sheet without any distances: which lines and slots
// there are. It finds every error that For would, in a tenth of the time.
func Outline(s *sheet.Sheet) (*Table, error) {
	g, err := outline(inputsOf(s))
	if err != nil {
		return nil, err
	}
	return g.worn(s)
}

// What hole spacing and line gap may be. Below the least a strand does not fit, and the
// table would grow without use.
const (
	MinSpacing scalp.MM = 4
	MaxSpacing scalp.MM = 25
	MinGap     scalp.MM = 4
	MaxGap     scalp.MM = 30
)

func outline(from inputs) (*ground, error) {
	if !(from.spacing >= MinSpacing && from.spacing <= MaxSpacing) {
		return nil, fmt.Errorf("hole spacing %g mm: between %g and %g mm fits", float64(from.spacing), float64(MinSpacing), float64(MaxSpacing))
	}
	if !(from.gap >= MinGap && from.gap <= MaxGap) {
		return nil, fmt.Errorf("line gap %g mm: between %g and %g mm fits", float64(from.gap), float64(MinGap), float64(MaxGap))
	}
	head, err := scalp.Fit(from.measures)
	if err != nil {
		return nil, err
	}
	hairline, err := head.Hairline(from.moved)
	if err != nil {
		return nil, err
	}
	t := &ground{Head: head, Spacing: from.spacing, Gap: from.gap, from: from,
		along: map[scalp.MM]*Line{}, gaps: map[linePair][]scalp.MM{}, curves: map[*Line]scalp.Curve{},
		roots: sync.OnceValue(func() *fibre.Field { return fibre.NewField(head, hairline) })}
	if from.aside {
		t.Begin = t.Spacing / 2
	}
	patches, err := patchesOn(head, from.keepOff)
	if err != nil {
		return nil, err
	}
	t.Zones = hairline.Zones(scalp.MM(from.fringeDepth), from.partings, patches)
	t.Lines = t.mapLines()
	t.round = len(t.Lines)
	for i, l := range t.Lines {
		if l.ID.Kind == scalp.Across {
			t.round = i
			break
		}
	}
	return t, nil
}

func patchesOn(head *scalp.Head, keepOff []sheet.KeepOff) ([]scalp.Vec, error) {
	top := head.FrontHeight()
	var patches []scalp.Vec
	for _, k := range keepOff {
		if !(k.Height >= 0 && k.Height <= top) {
			return nil, fmt.Errorf("keep-off patch at height %g: the head goes from 0 to %.0f mm", float64(k.Height), float64(top))
		}
		line := head.LineAt(k.Height)
		if !(k.Right >= line.Low && k.Right <= line.High) {
			return nil, fmt.Errorf("keep-off patch at height %g, %g mm right: that line goes from %.0f to %.0f mm", float64(k.Height), float64(k.Right), float64(line.Low), float64(line.High))
		}
		patches = append(patches, line.Point(k.Right))
	}
	return patches, nil
}

// margin is how many slots beyond the hair each line has, so that a bond just
// off it can be placed, seen and moved back.
const margin = 3

// mapLines lays out the lines of the map and their slots, without distances.
func (t *ground) mapLines() []*Line {
	var lines []*Line
	for i := 0; ; i++ {
		height := scalp.MM(i) * t.Gap
		if height > t.Head.FrontHeight()+20 {
			return lines
		}
		if l := t.slotsOf(t.Head.LineAt(height)); l != nil {
			lines = append(lines, l)
		} else if height > t.Head.FrontHeight() {
			return lines
		}
	}
}

// slotsOf is a line with the slots from a little outside the hair on one side to
// a little outside on the other; nil when it has no hair at all.
func (t *ground) slotsOf(sl *scalp.Line) *Line {
	const inset = 1e-6 // a slot exactly at the end belongs to the line
	last := int(math.Floor(float64((sl.High - t.Begin + inset) / t.Spacing)))
	least := -int(math.Floor(float64((sl.High + t.Begin + inset) / t.Spacing)))
	pts := sl.Walk(t.Begin, t.Spacing, least, last)
	first, final := -1, -1
	inside := make([]bool, len(pts))
	for i, p := range pts {
		if inside[i] = t.Zones.Hairline.Contains(p); inside[i] {
			if first < 0 {
				first = i
			}
			final = i
		}
	}
	if first < 0 {
		return nil
	}
	first, final = max(0, first-margin), min(len(pts)-1, final+margin)
	l := &Line{Line: sl, First: first + least, Slots: make([]Slot, final-first+1)}
	for i := range l.Slots {
		l.Slots[i] = Slot{Point: pts[first+i], OnScalp: inside[first+i]}
	}
	return l
}

// measure fills in the distances of the lines' slots, on two goroutines: the
// work is about 20 µs a slot.
func (t *ground) measure(lines []*Line) {
	var wg sync.WaitGroup
	for w := range 2 {
		wg.Go(func() {
			for i := w; i < len(lines); i += 2 {
				for k := range lines[i].Slots {
					t.measureSlot(&lines[i].Slots[k])
				}
			}
		})
	}
	wg.Wait()
}

func (t *ground) measureSlot(s *Slot) {
	z, surface := t.Zones, &t.Head.Surface
	to := func(curves ...scalp.Curve) scalp.MM {
		d, _ := surface.DistanceToCurve(s.Point, curves...)
		return d
	}
	s.Hang = t.Head.Hang(s.Point)
	s.Nape = to(z.Nape)
	s.Ear = to(z.Ears[:]...)
	s.Temple = to(z.Temples[:]...)
	s.Front = to(z.Front)
	s.Fringe = scalp.MM(math.Inf(1))
	if t.from.fringeDepth > 0 {
		s.Fringe = z.FringeDepthOf(s.Point)
	}
	s.Part = to(z.Partings...)
	for _, p := range z.Patches {
		s.KeepOff = append(s.KeepOff, to(p))
	}
}
