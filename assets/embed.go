// Package assets holds the sheets, the studio and the fonts that come with the program. The
// clients, shades and prices are invented.
package assets

import "embed"

// Sheets are the sheets to look at on the start page.
//
//go:embed sheets/*.toml
var Sheets embed.FS

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
