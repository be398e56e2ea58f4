package tui

import (
	"bufio"
	"errors"
)

var errStopped = errors.New("told from outside to end")

// lines reads a line at a time, when next is called; the error of that is errStopped where the dialogue is to end while it waits for one.
// done is called when no more are wanted.
func (p *plain) lines(r *bufio.Reader) (next func() (string, error), done func()) {
	type read struct {
		line string
		err  error
	}
	asked, got := make(chan struct{}), make(chan read, 1)
	go func() {
		for range asked {
			line, err := readLine(r)
			got <- read{line, err}
		}
	}()
	next = func() (string, error) {
		asked <- struct{}{}
		select {
		case next := <-got:
			return next.line, next.err
		case <-p.stop:
			return "", errStopped
		}
	}
	return next, func() { close(asked) }
}

// refuse says why a line can't be obeyed.
func (p *plain) refuse(why string) {
	p.refused++
	p.say(why)
}

// allObeyed is ErrRefused where a line could not be obeyed.
func (p *plain) allObeyed() error {
	if p.refused > 0 {
		return ErrRefused
	}
	return nil
}

// ended is the end of the input, or of the program from outside, as how says: nothing is asked any more, nothing is dropped unsaid.
func (p *plain) ended(how string) error {
	defer p.flush()
	lost := error(nil)
	if p.cutOff() {
		lost = ErrNotSaved
	}
	m := p.m
	m.finishKeeping()
	d := m.doc
	if d == nil {
		return lost
	}
	if m.rec != nil && len(m.rec.steps) > 0 {
		p.say(how + "; the recording is not saved")
		lost = ErrNotSaved
	}
	switch {
	case d.practice.lost(d.sheet()):
		p.say(how + "; what was done can't be kept on this machine, and was not handed in")
		return ErrNotSaved
	case d.practice != nil, !d.changed(): // what is practised is kept as it is made
		if how == "stopped" {
			p.say(either(lost == nil, "stopped; nothing was unsaved", "stopped; nothing else was unsaved"))
		}
		p.leftAs(d)
		return lost
	case d.kept.log == nil || m.unkept:
		p.say(how + "; not saved, and no copy could be kept")
		return ErrNotSaved
	}
	m.End(map[bool]string{true: "the program was told from outside to end", false: "its input ended"}[how == "stopped"])
	_ = d.kept.log.Close() // it is on the disk already
	p.say(how + "; not saved. A copy is kept and offered " + whenOffered(d))
	return ErrNotSaved
}
