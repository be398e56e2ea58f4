package bust

import (
	"testing"

	"example.org/underveil/internal/cells"
)

// BenchmarkTurn is a new relief, as when the view is turned, and a drawing of it.
func BenchmarkTurn(b *testing.B) {
	head, line := headOf(b, 1, nil)
	scene := sample(head, line, false)
	scr := cells.NewScreen(120, 40)
	v := View{}
	for b.Loop() {
		v = v.Turned(15, 0)
		r := NewRelief(head, line, v, 120, 40, false)
		Draw(scr, cells.Rect{W: 120, H: 40}, r, scene)
	}
}

// BenchmarkDraw is a drawing of 1000 marks, and of the ground of every slot, on the relief there is.
func BenchmarkDraw(b *testing.B) {
	head, line := headOf(b, 1, nil)
	scene := sample(head, line, false)
	for i := 0; len(scene.Marks) < 1000; i++ {
		scene.Marks = append(scene.Marks, Mark{At: scene.Ground[i%len(scene.Ground)].At, Rune: 'x'})
	}
	scr := cells.NewScreen(120, 40)
	r := NewRelief(head, line, View{}, 120, 40, false)
	for b.Loop() {
		Draw(scr, cells.Rect{W: 120, H: 40}, r, scene)
	}
}
