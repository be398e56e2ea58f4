package bust

import (
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/scalp"
)

// View says from where the head is seen, in degrees. Turn 0 is from behind, 90 from the client's
// right, -90 from the left, 180 from the front; Lift 0 is level, 90 from above, -30 from below.
type View struct{ Turn, Lift float64 }

// How far the view can be lifted and lowered, in degrees. Further down there is only the neck.
const (
	leastLift = -45
	mostLift  = 90
)

// aboveLift is the lift of the views that are named as from one side and above.
const aboveLift = 35

// directions are the eight directions to look from, by eighths of a turn to the client's right.
var directions = [8]struct{ name, words string }{
	{"back", "from behind"}, {"back-right", "from the back right"},
	{"right", "from the right"}, {"front-right", "from the front right"},
	{"front", "from the front"}, {"front-left", "from the front left"},
	{"left", "from the left"}, {"back-left", "from the back left"},
}

// Names are the names that Named knows. Each but "above" may be followed by "-above".
var Names = []string{"back", "left", "right", "above", "front", "back-left", "back-right", "front-left", "front-right"}

// Named is the view of a name, such as "back-left" or "back-left-above".
func Named(name string) (View, bool) {
	if name == "above" {
		return View{Lift: 90}, true
	}
	side, above := strings.CutSuffix(name, "-above")
	for i, d := range directions {
		if d.name != side {
			continue
		}
		v := View{Turn: wrapped(45 * float64(i))}
		if above {
			v.Lift = aboveLift
		}
		return v, true
	}
	return View{}, false
}

// String says in words from where the head is seen, to the nearest eighth of a turn and degree of lift.
func (v View) String() string {
	lift := math.Round(v.Lift)
	if lift >= mostLift {
		return "from above"
	}
	words := directions[(int(math.Round(wrapped(v.Turn)/45))+8)%8].words
	switch {
	case lift > 0:
		return fmt.Sprintf("%s, %.0f degrees up", words, lift)
	case lift < 0:
		return fmt.Sprintf("%s, %.0f degrees down", words, -lift)
	}
	return words
}

// Turned is the view from further to the client's right and higher up, by degrees. The turn goes
// round, in (-180, 180]; the lift stays between -45 and 90.
func (v View) Turned(turn, lift float64) View {
	return View{wrapped(v.Turn + turn), min(max(v.Lift+lift, leastLift), mostLift)}
}

// wrapped is the same direction in (-180, 180] degrees.
func wrapped(turn float64) float64 {
	if turn = math.Remainder(turn, 360); turn == -180 {
		return 180
	}
	return turn
}

// axes are the directions to the right and up in the picture, and towards the viewer.
func (v View) axes() (right, up, toward scalp.Vec) {
	sin, cos := math.Sincos(v.Turn * math.Pi / 180)
	rise, level := math.Sincos(v.Lift * math.Pi / 180)
	right = scalp.Vec{X: cos, Y: sin}
	toward = scalp.Vec{X: sin * level, Y: -cos * level, Z: rise}
	return right, toward.Cross(right), toward
}
