package cli

import (
	"cmp"
	"regexp"
	"runtime/debug"
	"strings"
)

// Version, Revision and Made are what a release says of itself: its number, the commit that it was built from, and the day of that. Its build sets them.
var Version, Revision, Made string

// version is what this program says it is: a release, or else what Go has put into it.
func version() string {
	release := built{Version, Revision, Made, false}
	if info, ok := debug.ReadBuildInfo(); ok {
		return release.or(builtFrom(info)).String()
	}
	return release.String()
}

// built is what a program was built from; each may be unknown.
type built struct {
	version  string // without the v
	revision string
	day      string
	changed  bool // since that revision
}

func (b built) or(other built) built {
	return built{cmp.Or(b.version, other.version), cmp.Or(b.revision, other.revision), cmp.Or(b.day, other.day), b.changed || other.changed}
}

// String is like 1.2.0 (0123456789ab of 2026-11-26, changed).
func (b built) String() string {
	var about []string
	switch {
	case b.revision != "" && b.day != "":
		about = append(about, b.revision+" of "+b.day)
	case b.revision != "":
		about = append(about, b.revision)
	}
	if b.changed {
		about = append(about, "changed")
	}
	text := cmp.Or(b.version, "unreleased")
	if len(about) > 0 {
		text += " (" + strings.Join(about, ", ") + ")"
	}
	return text
}

// pseudo is the version that Go makes up for a commit without one, with the commit's time and the first of its digits.
var pseudo = regexp.MustCompile(`[-.](\d{4})(\d\d)(\d\d)\d{6}-([0-9a-f]{12})$`)

// builtFrom reads what Go puts into a program: the module's version where it has one, and the commit where it was built in a clone and Go was not told to
// leave that out.
func builtFrom(info *debug.BuildInfo) built {
	var b built
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			b.revision = s.Value[:min(12, len(s.Value))]
		case "vcs.time":
			b.day, _, _ = strings.Cut(s.Value, "T")
		case "vcs.modified":
			b.changed = s.Value == "true"
		}
	}
	number, dirty := strings.CutSuffix(info.Main.Version, "+dirty")
	b.changed = b.changed || dirty
	switch at := pseudo.FindStringSubmatch(number); {
	case at != nil:
		b.day, b.revision = cmp.Or(b.day, at[1]+"-"+at[2]+"-"+at[3]), cmp.Or(b.revision, at[4])
	case number != "(devel)":
		b.version = strings.TrimPrefix(number, "v")
	}
	return b
}
