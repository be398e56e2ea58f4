package slots

import (
	"sync"
	"testing"

	"example.org/underveil/internal/scalp"
)

// Several may ask a table at once for what it makes when it is first asked for; all get the same.
func TestTableIsReadByMany(t *testing.T) {
	s := lopsided(medium())
	alone, shared := fresh(t, s), fresh(t, s)
	const readers = 6
	lines := make([][]*Line, readers)
	gaps := make([][][]scalp.MM, readers)
	var wg sync.WaitGroup
	for r := range readers {
		wg.Go(func() {
			for k := range 9 {
				l, err := shared.Line(along(scalp.MM(8 * ((k+r)%9 - 4))))
				if err != nil {
					t.Error(err)
					return
				}
				lines[r] = append(lines[r], l)
			}
			for i := range 8 {
				n := (i + r) % 8
				gaps[r] = append(gaps[r], shared.Gaps(shared.Lines[4*n+2], shared.Lines[4*n+1]))
			}
		})
	}
	wg.Wait()
	if t.Failed() {
		return
	}
	for r := range readers {
		for k := range 9 {
			at := along(scalp.MM(8 * ((k+r)%9 - 4)))
			if l := lines[r][k]; l != shared.line(t, at) {
				t.Errorf("reader %d has a line of its own at %s", r, at)
			} else if want := alone.line(t, at); len(l.Slots) != len(want.Slots) || l.Slots[3].Nape != want.Slots[3].Nape || l.Drawn[3] != want.Drawn[3] {
				t.Errorf("the line at %s differs from the one of a single reader", at)
			}
		}
		for i := range 8 {
			n := (i + r) % 8
			want := alone.Gaps(alone.Lines[4*n+2], alone.Lines[4*n+1])
			for k, g := range gaps[r][i] {
				if g != want[k] {
					t.Fatalf("reader %d: gap %v, a single reader has %v", r, g, want[k])
				}
			}
		}
	}
}
