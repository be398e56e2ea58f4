package sheet

import (
	"testing"
)

func TestBrief(t *testing.T) {
	s := &Sheet{}
	at := Place{At: 60}
	for _, c := range []struct {
		add  func()
		want string
	}{
		{func() {}, "no bonds"},
		{func() { s = s.WithBonds(at, map[int]Bond{0: {Shade: 'a'}}) }, "1 bond in 1 row"},
		{func() { s = s.WithBonds(at, map[int]Bond{4: {Shade: 'a'}}) }, "2 bonds in 1 row"},
		{func() { s = s.WithBonds(Place{At: 80}, map[int]Bond{0: {Shade: 'a'}}) }, "3 bonds in 2 rows"},
		{func() { s = s.With(func(c *Sheet) { c.Visits = []Visit{{Kind: Fitting}} }) }, "3 bonds in 2 rows and 1 visit"},
	} {
		c.add()
		if got := Brief(s); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
