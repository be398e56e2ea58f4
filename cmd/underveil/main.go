// Command underveil is the head sheet editor.
package main

import (
	"os"

	_ "example.org/underveil/internal/backdrop" // before Bubble Tea: see there
	"example.org/underveil/internal/cli"
)

func main() {
	os.Exit(cli.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
