package scalp

import (
	"fmt"
	"math"
)

// Measures are the four tapes that fix a head.
type Measures struct {
	// Circumference runs round the widest level, over the brow and the back of
	// the head.
	Circumference MM
	// EarToEar runs over the top from the notch in front of one ear canal to
	// the other. (Taken from in front of the ears over the hair it reads about
	// 20 mm more.)
	EarToEar MM
	// FrontToNape runs over the top from the middle of the front hairline to the
	// middle of the nape hairline.
	FrontToNape MM
	// NapeWidth runs level across the nape from one corner of the hairline to
	// the other, 10 mm up. It sets the lower half of the head, which no other
	// tape does, and beyond what that can give it moves the corners.
	NapeWidth MM
	// Confirmed takes measures outside the published range as they are.
	Confirmed bool
}

// Size is a head to start from when there is no tape.
type Size struct {
	Name     string
	Basis    string // which percentile, of whom, measured by whom
	Measures Measures
}

// Sizes are the four default heads. Circumference: ANSUR II 2012. Ear to ear:
// bitragion coronal arc, NIOSH 2003. Front to nape: nasion to inion over the
// vertex (TMSMultiLab open data), less hairline to nasion (67.5 mm women, 72.2
// men; Maxillofac Plast Reconstr Surg 2019, table 9), plus 62 mm from the inion
// to the nape hairline, which is an assumption: no published figure was found.
// Nape width: no published figure was found either; the widths here make the
// lower half of each head 1.2 times as deep as its upper half.
var Sizes = []Size{
	{"small", "an ordinary small head: 5 of 100 women have a smaller one", Measures{Circumference: 532, EarToEar: 315, FrontToNape: 325, NapeWidth: 97}},
	{"medium", "an ordinary head: half of all women have a smaller one", Measures{Circumference: 560, EarToEar: 340, FrontToNape: 355, NapeWidth: 108}},
	{"large", "an ordinary large head: half of all men have a smaller one", Measures{Circumference: 574, EarToEar: 350, FrontToNape: 361, NapeWidth: 118}},
	{"extra large", "an ordinary very large head: 95 of 100 men have a smaller one", Measures{Circumference: 601, EarToEar: 375, FrontToNape: 395, NapeWidth: 124}},
}

// Ranges that heads have, from the surveys. Outside them a measure is taken for
// a slip of the tape unless it is confirmed.
var (
	circumferenceRange = [2]float64{500, 635}   // ANSUR II 2012, least and most of 6068 people
	earToCircumference = [2]float64{0.49, 0.73} // NIOSH 2003, least and most of 1453 women
	earToTopRange      = [2]float64{105, 150}   // ANSUR II 2012, least and most
	anyHead            = [2]float64{300, 900}   // beyond this nothing is worth confirming
)

// MeasureError says which measure does not fit, and what would.
type MeasureError struct {
	Measure string // the name of the tape, as Measures names it in words
	Value   MM
	Low     MM // what would be accepted; Low = High = 0 when it depends on nothing simple
	High    MM
	Reason  string
	Soft    bool // confirming the measures lets it pass
}

func (e *MeasureError) Error() string {
	msg := fmt.Sprintf("%s %.0f mm: %s", e.Measure, float64(e.Value), e.Reason)
	if e.High > 0 {
		format := "; between %.0f and %.0f mm fits"
		if e.Soft {
			format = "; heads have %.0f to %.0f mm"
		}
		msg += fmt.Sprintf(format, math.Ceil(float64(e.Low)), math.Floor(float64(e.High)))
	}
	if e.Soft {
		msg += "; measure again, or confirm the measures if they are right"
	}
	return msg
}

// plausible checks the tapes one by one, before any fitting.
func (m Measures) plausible() error {
	heads := circumferenceRange
	if m.Confirmed {
		heads = anyHead
	}
	for _, t := range []struct {
		name  string
		value MM
		span  [2]float64
		fits  [2]float64 // none where it depends on the other tapes
	}{
		{"circumference", m.Circumference, anyHead, heads},
		{"ear to ear", m.EarToEar, [2]float64{150, 600}, [2]float64{}},
		{"front to nape", m.FrontToNape, [2]float64{150, 600}, [2]float64{}},
		{"nape width", m.NapeWidth, [2]float64{30, 250}, [2]float64{}},
	} {
		if v := float64(t.value); math.IsNaN(v) || outside(v, t.span) {
			return &MeasureError{Measure: t.name, Value: t.value, Low: MM(t.fits[0]), High: MM(t.fits[1]),
				Reason: "that is not a head"}
		}
	}
	if m.Confirmed {
		return nil
	}
	if outside(float64(m.Circumference), circumferenceRange) {
		return &MeasureError{Measure: "circumference", Value: m.Circumference, Soft: true,
			Low: MM(circumferenceRange[0]), High: MM(circumferenceRange[1]),
			Reason: "outside what the head surveys found"}
	}
	if c := float64(m.Circumference); outside(float64(m.EarToEar)/c, earToCircumference) {
		return &MeasureError{Measure: "ear to ear", Value: m.EarToEar, Soft: true,
			Low: MM(c * earToCircumference[0]), High: MM(c * earToCircumference[1]),
			Reason: fmt.Sprintf("outside what the head surveys found with a circumference of %.0f mm", c)}
	}
	return nil
}

func outside(v float64, span [2]float64) bool { return v < span[0] || v > span[1] }
