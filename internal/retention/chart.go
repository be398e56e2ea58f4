package retention

import (
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/printable"
)

// marks are what a chart is drawn with.
type marks struct {
	share, beyond  rune // the bar as far as the share, and the whisker beyond it
	low, high      rune // the ends of the whisker
	point          rune // the share
	runsOff, spare rune // the whisker goes on to the left of the scale; nothing
}

var (
	drawn = marks{'━', '─', '┣', '┤', '●', '‹', ' '}
	plain = marks{'=', '-', '[', ']', 'o', '<', ' '}
)

// scale is the shares from the left end of a chart to its right end, which is all.
type scale struct {
	from  float64
	cells int
}

// Where a scale may begin, and the bonds that a group needs for its interval to have a say in that: that of fewer reaches so
// far down that nothing else could be told apart.
const (
	lastStart = 0.9
	scaleStep = 0.1
	tellsMost = 10
)

// scaleOf is a scale for counts: every share lies on it, and every interval of a fair number of bonds.
func scaleOf(counts []Count, cells int) scale {
	least := lastStart
	for _, c := range counts {
		if c.Known == 0 {
			continue
		}
		least = min(least, c.Share())
		if c.Known >= tellsMost {
			low, _ := c.Interval()
			least = min(least, low)
		}
	}
	return scale{scaleStep * math.Floor(least/scaleStep+1e-9), cells}
}

// at is the cell of a share.
func (s scale) at(share float64) int {
	return int(math.Round((share - s.from) / (1 - s.from) * float64(s.cells-1)))
}

// bar draws the share of a count, with its interval as a whisker.
func (s scale) bar(c Count, m marks) string {
	cells := []rune(strings.Repeat(string(m.spare), s.cells))
	if c.Known == 0 {
		return string(cells)
	}
	l, h := c.Interval()
	low, share, high := s.at(l), s.at(c.Share()), s.at(h)
	for i := range cells {
		switch {
		case i <= share:
			cells[i] = m.share
		case i < high:
			cells[i] = m.beyond
		}
	}
	cells[high] = m.high
	if low < 0 {
		low, m.low = 0, m.runsOff
	}
	cells[low] = m.low
	cells[share] = m.point
	return string(cells)
}

// axis is the scale in words above the bars: its ends, and the middle where there is room.
func (s scale) axis() string {
	const end = "100 %"
	line := fmt.Sprintf("%.0f %%", 100*s.from)
	if middle := fmt.Sprintf("%.0f %%", 50*(1+s.from)); s.cells >= 24 {
		line += printable.Blanks(s.cells/2-len(middle)/2-len(line)) + middle
	}
	return line + printable.Blanks(s.cells-len(line)-len(end)) + end
}

// percent is a share in words. All and none are said of all and none alone.
func percent(share float64) string {
	n := math.Round(100 * share)
	if share < 1 {
		n = min(n, 99)
	}
	if share > 0 {
		n = max(n, 1)
	}
	return fmt.Sprintf("%.0f %%", n)
}

// figures are the share of a count and where it lies: " 95 % (89 to 98)".
func figures(c Count) string {
	if c.Known == 0 {
		return "not known"
	}
	low, high := c.Interval()
	return fmt.Sprintf("%5s (%.0f to %.0f)", percent(c.Share()), 100*low, 100*high)
}

// widestFigures is how wide figures may be.
const widestFigures = len("100 % (100 to 100)") - 1

// pad is a text made as wide as a column.
func pad(text string, width int) string { return text + printable.Blanks(width-printable.Width(text)) }
