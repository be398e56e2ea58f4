// Package assets holds the sheets and the studio that come with the program. The
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
