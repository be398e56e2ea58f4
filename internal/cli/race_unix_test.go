//go:build race && unix

package cli

// The program on a terminal is built as the tests are: there its parts run at once as they do for its users.
func init() { buildFlags = append(buildFlags, "-race") }
