package sheet

import (
	"cmp"
	"fmt"

	"example.org/underveil/internal/fibre"
)

// LimitName names a limit that the rules measure against, or a figure that they work with.
type LimitName string

// The limits. Each is explained in Limits.
const (
	LimitNape        LimitName = "nape"
	LimitNapeUp      LimitName = "nape_up"
	LimitEar         LimitName = "ear"
	LimitTemple      LimitName = "temple"
	LimitFace        LimitName = "face"
	LimitFringe      LimitName = "fringe"
	LimitFringeDepth LimitName = "fringe_depth"
	LimitPart        LimitName = "part"
	LimitRowGap      LimitName = "row_gap"
	LimitBondGap     LimitName = "bond_gap"
	LimitStacked     LimitName = "stacked"
	LimitTrim        LimitName = "trim"
	LimitBalance     LimitName = "balance"
	LimitVeil        LimitName = "veil"
	LimitVeilUp      LimitName = "veil_up"
	LimitReach       LimitName = "reach"
	LimitAside       LimitName = "aside"
	LimitLoad        LimitName = "load"
	LimitTotalLoad   LimitName = "total_load"
	LimitBlend       LimitName = "length_blend"
	LimitShade       LimitName = "shade"
	LimitReturn      LimitName = "return_from"
	LimitOverdue     LimitName = "return_by"
)

// The figures that the rules work with besides. They are set, and shown with their source, as limits are.
const (
	FigureStandOff  LimitName = "stand_off"
	FigureGrowth    LimitName = "growth"
	FigureWidth     LimitName = "section_width"
	FigureThickness LimitName = "section_thickness"
	FigureFibre     LimitName = "fibre"
	FigurePacking   LimitName = "packing"
	FigureWhorl     LimitName = "whorl_radius"
	FigureTip       LimitName = "strand_tip"
	FigureOcciput   LimitName = "occipital_bone"
	FigureCheck     LimitName = "early_check"
	FigureRetip     LimitName = "retip_cut"
	FigureTelogen   LimitName = "telogen"
	FigureRest      LimitName = "telogen_days"
)

// Practice is the source of a limit that has no published one, Assumption that of a figure.
const (
	Practice   = "common practice, no source"
	Assumption = "assumption, no source"
)

// LimitInfo explains a limit or a figure.
type LimitInfo struct {
	Name    LimitName
	Short   string // as a label
	Title   string // what it is, after the figure: "20 mm from the nape hairline"
	Unit    string // "mm", "%", "hairs/mm" and so on
	Default float64
	Low     float64 // what a sheet may set
	High    float64
	Source  string // where the default comes from
}

// Limits lists every limit, and after them every figure, in the order in which they are shown.
var Limits = []LimitInfo{
	{LimitNape, "nape", "from the nape hairline, hair never in a ponytail", "mm", 20, 0, 100, Practice},
	{LimitNapeUp, "nape, ponytail", "from the nape hairline, hair worn in a ponytail", "mm", 40, 0, 100, Practice},
	{LimitEar, "ear", "from the hairline round the ear", "mm", 15, 0, 60, Practice},
	{LimitTemple, "temple", "from the hairline at the temple", "mm", 25, 0, 80, Practice},
	{LimitFace, "face", "from the front hairline anywhere", "mm", 25, 0, 80, Practice},
	{LimitFringe, "fringe", "from the front hairline at the fringe", "mm", 35, 0, 100, Practice},
	{LimitFringeDepth, "fringe depth", "of the fringe triangle, back from the front hairline", "mm", 60, 0, 120, Practice},
	{LimitPart, "parting", "on either side of a parting", "mm", 20, 0, 60, Practice},
	{LimitRowGap, "between rows", "between rows, on the scalp", "mm", 12, 0, 60, Practice},
	{LimitBondGap, "between bonds", "between bonds: one bond's width and room to work", "mm", 6, 0, 30, Practice},
	{LimitStacked, "offset rows", "sideways from the bond above, where offset rows are asked for", "mm", 3, 0, 20, Practice},
	{LimitTrim, "trim within", "from the temple hairline, within which a trimmed bond hides better", "mm", 45, 0, 100, Practice},
	{LimitBalance, "left to right", "between left and right, of the grams on both sides", "%", 10, 0, 100, Practice},
	{LimitVeil, "veil", "of own hair over a bond, worn down: 25 mm of scalp at 190 hairs/cm²", "hairs/mm", 47, 0, 200, Practice},
	{LimitVeilUp, "cover worn up", "of own hair over a bond, worn half up or up", "hairs/mm", 47, 0, 200, Practice},
	{LimitReach, "reach", "that own hair reaches past a bond, or past the tie", "mm", 30, 0, 100, Practice},
	{LimitAside, "falls aside", "between the way the hair falls and straight down", "°", 45, 0, 180, Practice},
	{LimitLoad, "load", "of the load on own hair that a whole strand is in the reference section", "%", 150, 10, 1000, Practice},
	{LimitTotalLoad, "total load", "of the grams of own hair added", "%", 100, 1, 500, Practice},
	{LimitBlend, "length blend", "of the hair at the ends of the own hair that is added", "%", 20, 0, 90, Practice},
	{LimitShade, "shade", "between the shades fitted and the client's reading", "ΔE00", 2.5, 0.2, 20, "assumption; none was found for hair, for teeth 1.8 to 3.7 (review, Mustansiria Dent J 2023)"},
	{LimitReturn, "back from", "after the fitting, from when on a client is due back", "weeks", 6, 1, 26, "practice; Haskin and Aguh 2016, as reported: 6 to 8 weeks"},
	{LimitOverdue, "back by", "after the fitting, from when on a client is overdue", "weeks", 8, 1, 26, "practice; Haskin and Aguh 2016, as reported: 6 to 8 weeks"},
	{FigureStandOff, "stand-off", "from the scalp to a bond when it is fitted, along the hair", "mm", 5, 0, 30, Practice},
	{FigureGrowth, "growth", "that hair grows in a day", "mm", 0.35, 0.1, 0.6, "means of 0.26 to 0.41 mm: Loussouarn 2001 and 2005, Myers and Hamilton 1951"},
	{FigureWidth, "section width", "of the section taken for a bond, along the row", "mm", 8, 1, 25, Practice},
	{FigureThickness, "section thickness", "of the section taken for a bond, across the row", "mm", 4.5, 1, 25, Practice},
	{FigureFibre, "fibre", "that a hair weighs", "µg/cm", fibre.LinearDensity, 30, 110, "4,100 µm² (Evans and Wickett 2012) at 1.32 g/cm³ (from memory)"},
	{FigurePacking, "tied hair", "of the space in a tied ponytail that is hair", "%", 60, 40, 90, Assumption},
	{FigureWhorl, "whorl", "over which hair turns at the whorl and the ends of a parting", "mm", 25, 1, 60, Assumption},
	{FigureTip, "strand tips", "of a strand's hair that reaches its full length", "%", 60, 0, 100, Assumption},
	{FigureOcciput, "occipital bone", "up the midline to the occipital bone, under which the first parting lies", "mm", 65, 20, 140, "level with the ear canal on ordinary heads; anatomy texts, from memory"},
	{FigureCheck, "early check", "after the fitting, by when every bond is looked at again", "weeks", 2, 0, 8, Practice},
	{FigureRetip, "re-tipping", "that cutting back for a new tip takes off a strand", "mm", 10, 0, 100, Practice},
	{FigureTelogen, "resting hair", "of the hairs that rest at any time, and are shed when they have", "%", 100 * fibre.TelogenShare, 2, 46, "Loussouarn 2005; people differ from 2 to 46"},
	{FigureRest, "rest", "that a hair rests before it is shed", "days", fibre.TelogenDays, 30, 200, "reviews, from memory"},
}

// Words is the limit's label: "fringe depth".
func (n LimitName) Words() string {
	info, _ := n.Info()
	return info.Short
}

// limitAt is where each limit stands in Limits: they are looked up some ten times a keystroke.
var limitAt = func() map[LimitName]int {
	at := map[LimitName]int{}
	for i, l := range Limits {
		at[l.Name] = i
	}
	return at
}()

// Info finds a limit by name.
func (n LimitName) Info() (LimitInfo, bool) {
	if i, ok := limitAt[n]; ok {
		return Limits[i], true
	}
	return LimitInfo{}, false
}

// Limit is the value of a limit for this client and where it comes from.
func (s *Sheet) Limit(name LimitName) (value float64, source string) {
	if v, ok := s.Limits[name]; ok {
		return v, "set for this client"
	}
	if v, ok := s.House[name]; ok {
		return v, "set by " + cmp.Or(s.HouseOf, "the studio")
	}
	info, ok := name.Info()
	if !ok {
		panic(fmt.Sprintf("sheet: no limit is called %q", name))
	}
	return info.Default, info.Source
}

// Nape is which of the two nape limits holds for this client.
func (s *Sheet) Nape() LimitName {
	if s.WornUp() {
		return LimitNapeUp
	}
	return LimitNape
}
