package bust

import (
	"math"
	"testing"
)

func TestViewsInWords(t *testing.T) {
	for _, c := range []struct {
		view View
		want string
	}{
		{View{}, "from behind"}, {View{Turn: 90}, "from the right"}, {View{Turn: -90}, "from the left"}, {View{Turn: 180}, "from the front"},
		{View{Turn: -180}, "from the front"}, {View{Turn: -45}, "from the back left"}, {View{Turn: 135}, "from the front right"},
		{View{Turn: -135}, "from the front left"}, {View{Lift: 90}, "from above"}, {View{Turn: 30, Lift: 90}, "from above"},
		{View{Turn: 45, Lift: 20}, "from the back right, 20 degrees up"}, {View{Lift: -30}, "from behind, 30 degrees down"},
		{View{Turn: 22}, "from behind"}, {View{Turn: 23}, "from the back right"}, {View{Turn: -160, Lift: 0.4}, "from the front"},
	} {
		if got := c.view.String(); got != c.want {
			t.Errorf("%v is %q, want %q", [2]float64{c.view.Turn, c.view.Lift}, got, c.want)
		}
	}
}

func TestNamedViews(t *testing.T) {
	want := map[string]View{
		"back": {}, "left": {Turn: -90}, "right": {Turn: 90}, "above": {Lift: 90}, "front": {Turn: 180},
		"back-left": {Turn: -45}, "back-right": {Turn: 45}, "front-left": {Turn: -135}, "front-right": {Turn: 135},
		"back-left-above": {Turn: -45, Lift: 35}, "front-above": {Turn: 180, Lift: 35},
	}
	for name, v := range want {
		if got, ok := Named(name); !ok || got != v {
			t.Errorf("%s is %+v, %v; want %+v", name, got, ok, v)
		}
	}
	for _, name := range Names {
		if _, ok := want[name]; !ok {
			t.Errorf("%s is a name that the test does not know", name)
		}
	}
	if len(Names) != 9 {
		t.Errorf("%d names, want 9", len(Names))
	}
	for _, name := range []string{"", "-above", "above-above", "top", "left-right", "Back"} {
		if v, ok := Named(name); ok {
			t.Errorf("%q is %+v", name, v)
		}
	}
}

func TestTurned(t *testing.T) {
	for _, c := range []struct {
		from       View
		turn, lift float64
		want       View
	}{
		{View{}, 15, 10, View{15, 10}}, {View{170, 0}, 15, 0, View{-175, 0}}, {View{-170, 0}, -10, 0, View{180, 0}},
		{View{165, 0}, 15, 0, View{180, 0}}, {View{0, 80}, 0, 15, View{0, 90}}, {View{0, -40}, 0, -15, View{0, -45}}, {View{}, 720, 0, View{}},
	} {
		if got := c.from.Turned(c.turn, c.lift); got != c.want {
			t.Errorf("%+v turned by %g and %g is %+v, want %+v", c.from, c.turn, c.lift, got, c.want)
		}
	}
	v := View{}
	for range 24 {
		v = v.Turned(15, 0)
	}
	if v != (View{}) {
		t.Errorf("once round ends at %+v", v)
	}
}

// The picture's axes and the direction to the viewer are at right angles, and right-handed.
func TestAxes(t *testing.T) {
	rng := seeded(1)
	for range 200 {
		v := View{360*rng.Float64() - 180, 135*rng.Float64() - 45}
		right, up, toward := v.axes()
		if off := right.Cross(up).Minus(toward).Length() + math.Abs(right.Dot(up)) + math.Abs(right.Length()-1) + math.Abs(up.Length()-1); off > 1e-12 {
			t.Fatalf("%+v: axes %v, %v, %v", v, right, up, toward)
		}
		if right.Z != 0 || up.Z < -1e-12 {
			t.Fatalf("%+v: the head lies on its side: right %v, up %v", v, right, up)
		}
	}
}
