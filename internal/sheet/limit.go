package sheet

import (
	"fmt"
)

// LimitName names a limit that the rules measure against.
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
)

// Practice is the source of a limit that has no published one.
const Practice = "common practice, no source"

// LimitInfo explains a limit.
type LimitInfo struct {
	Name    LimitName
	Short   string // as a label
	Title   string // what it is, after the figure: "20 mm from the nape hairline"
	Unit    string // "mm" or "%"
	Default float64
	Low     float64 // what a sheet may set
	High    float64
	Source  string // where the default comes from
}

// Limits lists every limit in the order in which they are shown.
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
}

// Words is the limit's label: "fringe depth".
func (n LimitName) Words() string {
	info, _ := n.Info()
	return info.Short
}

// Info finds a limit by name.
func (n LimitName) Info() (LimitInfo, bool) {
	for _, l := range Limits {
		if l.Name == n {
			return l, true
		}
	}
	return LimitInfo{}, false
}

// Limit is the value of a limit for this client and where it comes from.
func (s *Sheet) Limit(name LimitName) (value float64, source string) {
	if v, ok := s.Limits[name]; ok {
		return v, "set for this client"
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
