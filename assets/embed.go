// Package assets holds the sheets, the studio and the fonts that come with the program. The
// clients, shades and prices are invented.
package assets

import "embed"

// Sheets are the sheets to look at on the start page.
//
//go:embed sheets/*.toml
var Sheets embed.FS

// Rules are the demonstrations of the rules, by the id of the rule: a sheet on which it reports, and what mends that.
//
//go:embed rules/*.toml
var Rules embed.FS

// Exercises are practice sheets with their briefs, in the order in which they are offered.
//
//go:embed exercises/*.toml
var Exercises embed.FS

// Demonstrations are the demonstrations to step through.
//
//go:embed demonstrations/*.toml
var Demonstrations embed.FS

// Studio is the studio file for those who have none of their own.
//
//go:embed studio.toml
var Studio []byte

// Sans and SansBold are the fonts of the card, as TrueType: DejaVu Sans, whose licence stands in fonts/LICENSE. They have
// Latin, Cyrillic, Greek, Hebrew and Arabic letters.
//
//go:embed fonts/DejaVuSans.ttf
var Sans []byte

// SansBold is the heavier of the two.
//
//go:embed fonts/DejaVuSans-Bold.ttf
var SansBold []byte

// Licences are the licences of what the program is made with: list.txt, and the texts.
//
//go:embed licences/*.txt
var Licences embed.FS
