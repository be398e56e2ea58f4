package scalp

import (
	"fmt"
	"testing"
)

func BenchmarkFit(b *testing.B) {
	for b.Loop() {
		if _, err := Fit(Sizes[1].Measures); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDistance(b *testing.B) {
	h := mediumHead(b)
	p := h.midlinePoint(60)
	for _, length := range []MM{30, 70, 120} {
		b.Run(fmt.Sprintf("%.0f mm", float64(length)), func(b *testing.B) {
			q, _ := h.Shoot(p, Vec{X: 1, Z: 1}, length)
			for b.Loop() {
				h.Distance(p, q)
			}
		})
	}
}

// From every slot of the medium head to one curve; the time is for one slot.
func BenchmarkDistanceToCurve(b *testing.B) {
	h := mediumHead(b)
	line := mustHairline(b, h, nil)
	zones := line.Zones(45, []Parting{{Right: 0, Length: 90}}, nil)
	slots := hairSlots(h, line)
	for _, c := range []struct {
		name  string
		curve Curve
	}{
		{"nape", zones.Nape}, {"front", zones.Front}, {"ear", zones.Ears[0]}, {"parting", zones.Partings[0]},
	} {
		b.Run(c.name, func(b *testing.B) {
			i := 0
			for b.Loop() {
				h.DistanceToCurve(slots[i%len(slots)], c.curve)
				i++
			}
		})
	}
}
