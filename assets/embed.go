// Package assets holds the sheets that come with the program. The clients are
// invented.
package assets

import "embed"

// Sheets are the sheets to look at on the start page.
//
//go:embed sheets/*.toml
var Sheets embed.FS
