// Package fibre is the arithmetic of hair: how many hairs grow on a piece of scalp and hang in a strand,
// what they weigh, what one carries, how fast they grow and how many are shed.
//
// Hair is taken as it is measured: by its density and the weight of its fibre. Nothing is inferred from
// who the client is, and nothing here is a medical limit.
package fibre

import (
	"math"

	"example.org/underveil/internal/scalp"
)

// Density is hairs per cm² of scalp.
type Density float64

// PerMM2 is the density in hairs per mm².
func (d Density) PerMM2() float64 { return float64(d) / 100 }

// The densities that are reckoned with. Published means of groups run from 143 to 233 hairs/cm² and
// those of people from 90 to 300 (Loussouarn 2001, 2005 and 2016; Barman 1965; Guo 2017).
const (
	// Unsaid is the density where nobody has said: between those means. Which is an assumption.
	Unsaid Density = 190
	// LeastDensity and MostDensity are what a count may give: the people measured, with some room.
	LeastDensity Density = 60
	MostDensity  Density = 350
)

// byEye is the density for each word. An assumption: the words are old, the figures are ours.
var byEye = map[string]Density{"fine": 140, "medium": Unsaid, "thick": 240}

// ByEye is the density that goes with a word: fine, medium or thick. ok is false for any other.
func ByEye(word string) (d Density, ok bool) {
	d, ok = byEye[word]
	return d, ok
}

// One hair, and a bundle of them.
const (
	// FibreDensity is the density of hair itself in g/cm³: Robbins, Chemical and Physical Behavior of
	// Human Hair; from memory.
	FibreDensity = 1.32
	// LinearDensity is what a hair weighs in µg/cm, unless it is measured: a section of 4,100 µm² (4,079 ± 170, Evans
	// and Wickett (eds) 2012, Practical Modern Hair Science, ch. 6 table 3) at FibreDensity.
	LinearDensity = 54.0
	// MostPacking is the share of a bundle that round hairs fill when they lie as close as can be.
	MostPacking = 0.9068996821171089 // π/(2√3)
)

// Growth and loss.
const (
	// TelogenShare is the share of hairs about to be shed: 12 %, Loussouarn 2005; people differ widely.
	TelogenShare = 0.12
	// TelogenDays is how long they rest before they are: reviews, from memory.
	TelogenDays = 100.0
)

// PullOut is the force in N that pulls one hair out: 0.37, SD 0.11 (Chase 1981, Smelser 1982). It stands
// beside a load to give it a size, and is no limit.
const PullOut = 0.37

// gravity is the standard acceleration of free fall in m/s² (3rd CGPM, 1901).
const gravity = 9.80665

// Section is the area in µm² of the section of a hair that weighs so many µg/cm.
func Section(linear float64) float64 { return linear / FibreDensity * 100 }

// MilligramsEach is what one hair of a length weighs.
func MilligramsEach(length scalp.MM, linear float64) float64 {
	return linear * float64(length) / 10 / 1000
}

// Grams is what so many hairs of a length weigh.
func Grams(hairs float64, length scalp.MM, linear float64) float64 {
	return hairs * MilligramsEach(length, linear) / 1000
}

// InSection is how many hairs grow on a section of scalp.
func InSection(d Density, width, thickness scalp.MM) float64 {
	return d.PerMM2() * float64(width*thickness)
}

// InStrand is how many hairs a strand has; none where it has no length.
func InStrand(grams float64, length scalp.MM, linear float64) float64 {
	each := MilligramsEach(length, linear)
	if each <= 0 {
		return 0
	}
	return 1000 * grams / each
}

// Load is the mg of a strand for each of the own hairs that carry it; infinite where none do.
func Load(grams, hairs float64) float64 {
	if hairs <= 0 {
		return math.Inf(1)
	}
	return 1000 * grams / hairs
}

// Pull is the force in N with which so many mg hang.
func Pull(milligrams float64) float64 { return milligrams * 1e-6 * gravity }

// Tied is how many hairs are in a tied bundle of so many mm round, when they fill the given share of it,
// at most MostPacking: N = φ·C²/(4π·A), with A the area of one hair in µm².
func Tied(round scalp.MM, packing, crossSection float64) float64 {
	if crossSection <= 0 {
		return 0
	}
	bundle := float64(round*round) / (4 * math.Pi) // mm²
	return math.Min(packing, MostPacking) * bundle * 1e6 / crossSection
}

// Grown is how much hair grows in some days; none in less than none.
func Grown(days, perDay float64) scalp.MM { return scalp.MM(math.Max(0, days) * perDay) }

// Shed is the share of the hairs in a bond that are shed in some days, when share of them rest at any time and
// each rests for telogenDays: as many leave in a day as come to the end of their rest. At most all.
func Shed(days, share, telogenDays float64) float64 {
	if telogenDays <= 0 {
		return 1
	}
	return math.Min(math.Max(0, days)*share/telogenDays, 1)
}

// Reaching is the share of a strand's hairs that are still there some way from its root end: all of them as far
// as the middle, from there on falling evenly to tip at its end, and none beyond. An assumption: no
// published figures for strands were found.
func Reaching(at, length scalp.MM, tip float64) float64 {
	middle := length / 2
	switch {
	case at >= length:
		return 0
	case at <= middle:
		return 1
	}
	return 1 - (1-tip)*float64((at-middle)/(length-middle))
}
