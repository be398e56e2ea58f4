package cli

import (
	"runtime/debug"
	"strings"
	"testing"
)

func TestVersions(t *testing.T) {
	const revision = "955945bf0e2ead499dee4d04622179a4830352b2"
	clone := func(modified string) []debug.BuildSetting {
		return []debug.BuildSetting{{Key: "vcs", Value: "git"}, {Key: "vcs.revision", Value: revision}, {Key: "vcs.time", Value: "2026-11-26T08:51:21Z"}, {Key: "vcs.modified", Value: modified}}
	}
	for name, c := range map[string]struct {
		release  built
		module   string
		settings []debug.BuildSetting
		want     string
	}{
		"a release": {built{"1.2.0", "0123456789ab", "2027-01-02", false}, "(devel)", nil, "1.2.0 (0123456789ab of 2027-01-02)"},
		"a release, built where something was changed": {built{"1.2.0", "955945bf0e2e", "2026-11-26", false}, "v0.0.0-20261126085121-955945bf0e2e+dirty", clone("true"),
			"1.2.0 (955945bf0e2e of 2026-11-26, changed)"},
		"only a number":            {built{version: "1.2.0"}, "(devel)", nil, "1.2.0"},
		"installed by its version": {built{}, "v1.2.0", nil, "1.2.0"},
		"a test version":           {built{}, "v1.2.0-rc.1", nil, "1.2.0-rc.1"},
		"installed by a commit":    {built{}, "v0.0.0-20261126085121-955945bf0e2e", nil, "unreleased (955945bf0e2e of 2026-11-26)"},
		"after a release":          {built{}, "v1.2.1-0.20261126085121-955945bf0e2e", clone("false"), "unreleased (955945bf0e2e of 2026-11-26)"},
		"a clone":                  {built{}, "v0.0.0-20261126085121-955945bf0e2e", clone("false"), "unreleased (955945bf0e2e of 2026-11-26)"},
		"a clone, changed":         {built{}, "v0.0.0-20261126085121-955945bf0e2e+dirty", clone("true"), "unreleased (955945bf0e2e of 2026-11-26, changed)"},
		"the clone of a release":   {built{}, "v1.2.0", clone("false"), "1.2.0 (955945bf0e2e of 2026-11-26)"},
		"go run":                   {built{}, "(devel)", nil, "unreleased"},
		"an older Go, in a clone":  {built{}, "(devel)", clone("true"), "unreleased (955945bf0e2e of 2026-11-26, changed)"},
		"nothing known":            {built{}, "", nil, "unreleased"},
		"a revision that is short": {built{}, "", []debug.BuildSetting{{Key: "vcs.revision", Value: "7"}}, "unreleased (7)"},
	} {
		info := &debug.BuildInfo{Main: debug.Module{Version: c.module}, Settings: c.settings}
		if got := c.release.or(builtFrom(info)).String(); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
	if v := version(); !strings.HasPrefix(v, "unreleased") {
		t.Errorf("a test says that it is release %s", v)
	}
}
