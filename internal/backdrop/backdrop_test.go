package backdrop_test

import (
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	_ "github.com/charmbracelet/bubbletea" // whose init would ask the terminal; see TestNothingIsAsked
	"github.com/charmbracelet/lipgloss"

	"example.org/underveil/internal/backdrop"
)

func TestFromEnv(t *testing.T) {
	const dark, light = true, false
	for _, c := range []struct {
		setting, fgbg string
		want          bool
	}{
		{"", "", dark},
		{"", "15;0", dark},
		{"", "7;6", dark},
		{"", "0;7", light},
		{"", "15;8", dark},
		{"", "0;9", light},
		{"", "0;15", light},
		{"", "0;default;15", light},
		{"", "15;default;0", dark},
		{"", "0;default", dark},
		{"", "15", light},
		{"", "0;", dark},
		{"", ";", dark},
		{"", "0;16", dark},
		{"", "0;-7", dark},
		{"", "0;7x", dark},
		{"", "0;99999999999999999999", dark},
		{"light", "", light},
		{"light", "15;0", light},
		{"dark", "0;15", dark},
		{" Light ", "15;0", light},
		{"DARK", "0;15", dark},
		{"beige", "0;15", light},
		{"beige", "", dark},
	} {
		env := map[string]string{"UNDERVEIL_BACKGROUND": c.setting, "COLORFGBG": c.fgbg}
		if got := backdrop.FromEnv(func(key string) string { return env[key] }); got != c.want {
			t.Errorf("UNDERVEIL_BACKGROUND=%q COLORFGBG=%q: dark = %v, want %v", c.setting, c.fgbg, got, c.want)
		}
	}
}

func TestLipGlossIsTold(t *testing.T) {
	if got := lipgloss.HasDarkBackground(); got != backdrop.Dark() {
		t.Errorf("lipgloss.HasDarkBackground() = %v, backdrop.Dark() = %v", got, backdrop.Dark())
	}
}

// One more import could make Go start this package after Bubble Tea.
func TestImportsStayFew(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "backdrop.go", nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, spec := range file.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		if path != "github.com/charmbracelet/lipgloss" && strings.Contains(path, ".") {
			t.Errorf("backdrop.go imports %s; it may import only Lip Gloss and the standard library", path)
		}
	}
}
