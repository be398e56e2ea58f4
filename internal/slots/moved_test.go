package slots

import (
	"reflect"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// A table with slots in other places is as one made from nothing whose slots were then put there, before anybody asked it anything;
// and the table that it comes from stays as it was, whatever was asked of it before.
func TestMoved(t *testing.T) {
	rng := seeded(8)
	all := heads()
	if testing.Short() {
		all = all[:2]
	}
	for n, s := range all {
		table, want, untouched := fresh(t, s), fresh(t, s), fresh(t, s)
		ways := Ways(s)
		if n%2 == 0 { // what was asked for before does not show
			askAll(table, ways)
		}
		to := map[sheet.Spot]scalp.Vec{{At: level(10 * table.Gap), Slot: 500}: {}, {At: level(3.3), Slot: 0}: {}} // no slots
		places := []sheet.Place{level(2 * table.Gap), level(6 * table.Gap), level(14 * table.Gap), along(3 * table.Spacing), along(-2 * table.Spacing)}
		for range 20 {
			at := places[rng.IntN(len(places))]
			line := table.line(t, at)
			slot := line.First + rng.IntN(len(line.Slots))
			off := scalp.MM(rng.Float64()*12 - 6)
			point := line.Point(min(max(table.Begin+scalp.MM(slot)*table.Spacing+off, line.Low), line.High))
			if !at.Along { // up or down as well, onto another line
				other := table.Head.LineAt(line.ID.At + 3)
				point = other.Point(min(max(table.Begin+scalp.MM(slot)*table.Spacing+off, other.Low), other.High))
			}
			to[sheet.Spot{At: at, Slot: slot}] = point
		}
		for at, point := range to {
			line, err := want.Line(at.At)
			if err != nil || line.At(at.Slot) == nil {
				continue
			}
			on := line.At(at.Slot)
			hang := on.Hang
			*on = Slot{Point: point, OnScalp: want.Zones.Hairline.Contains(point)}
			want.measureSlot(on)
			on.Hang = hang
		}
		got := table.Moved(to)
		wantAlike(t, got, want, ways)
		wantAlike(t, table, untouched, ways)
		if back, err := For(s, got); err != nil || back == got {
			t.Errorf("a moved table is handed out for a sheet, error %v", err)
		}
	}
}

// askAll asks a table for what it makes when it is first asked for.
func askAll(table *Table, ways []Way) {
	for i := range table.Lines[1:] {
		table.Gaps(table.Lines[i+1], table.Lines[i])
	}
	for i, l := range table.alongs() {
		table.Gaps(l, table.Lines[len(table.Lines)-1-i%5])
	}
	for _, way := range ways[1:] {
		table.Fill(way)
	}
}

// wantAlike holds all of a table against another one.
func wantAlike(t *testing.T, got, want *Table, ways []Way) {
	t.Helper()
	lines, wanted := append(got.alongs(), got.Lines...), append(want.alongs(), want.Lines...)
	if len(lines) != len(wanted) {
		t.Fatalf("%d lines, want %d", len(lines), len(wanted))
	}
	for i, l := range lines {
		w := wanted[i]
		if l.ID != w.ID || l.First != w.First || !reflect.DeepEqual(l.Slots, w.Slots) {
			t.Fatalf("line %v differs", l.ID)
		}
		if i == 0 {
			continue
		}
		if g, h := got.Gaps(l, lines[i-1]), want.Gaps(w, wanted[i-1]); !reflect.DeepEqual(g, h) {
			t.Fatalf("the gaps from line %v differ:\n%v\nwant\n%v", l.ID, g, h)
		}
		way := ways[i%len(ways)]
		for k := range l.Slots {
			if k%3 == i%3 && l.Slots[k].OnScalp && *got.Cover(way, l, l.First+k) != *want.Cover(way, w, w.First+k) {
				t.Fatalf("the cover at line %v, slot %d differs", l.ID, l.First+k)
			}
		}
	}
}

func BenchmarkMoved(b *testing.B) {
	s := medium()
	table := fresh(b, s)
	askAll(table, Ways(s))
	to := map[sheet.Spot]scalp.Vec{}
	for slot := -4; slot <= 4; slot++ {
		to[sheet.Spot{At: level(60), Slot: slot}] = table.Head.LineAt(63).Point(8 * scalp.MM(slot))
	}
	for b.Loop() {
		table.Moved(to)
	}
}
