package recovery

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"time"
	"unicode/utf8"
)

// A log begins with a line that says what it is. Then come frames: a head, which says what sheet it is of, and a record
// for every change. A frame is the length of what is in it, a checksum over length and content, and the content.
const (
	magic     = "underveil unsaved 1\n"
	frameHead = 8       // bytes before the content: length and checksum, little-endian
	maxFrame  = 8 << 20 // bytes of content; a sheet that can be read has at most 1 MiB
)

// castagnoli is the polynomial that processors have an instruction for.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Origin is the file that a sheet was opened from.
type Origin struct {
	Path  string // absolute, and any bytes that a name can have; empty for a sheet that has no file yet
	Stamp string // tells whether the file is still as it was read; any bytes
}

// Record is a sheet at one moment, with all it takes to go on there.
type Record struct {
	At      time.Time // when
	Changes int       // how often the sheet was changed since it was opened or saved
	Place   string    // where in it work was going on, in UTF-8; whoever keeps the record knows how to read it
	Sheet   []byte    // as its file would be
	Ended   string    // why its writer ended, where that could still be said; in words
}

// headLine and recordLine are what is written of an Origin and a Record, as JSON, so that a log can be read without this
// program too. Of a record the sheet follows on the next line.
type headLine struct {
	Path  string `json:"path"`
	Bytes []byte `json:"bytes,omitempty"` // of a path that is no UTF-8
	Stamp []byte `json:"stamp,omitempty"`
}

type recordLine struct {
	At      time.Time `json:"at"`
	Changes int       `json:"changes"`
	Place   string    `json:"place,omitempty"`
	Ended   string    `json:"ended,omitempty"`
}

// frame puts the length and the checksum before the parts of a content.
func frame(to []byte, parts ...[]byte) ([]byte, error) {
	start := len(to)
	to = append(to, make([]byte, frameHead)...)
	for _, p := range parts {
		to = append(to, p...)
	}
	n := len(to) - start - frameHead
	if n > maxFrame {
		return nil, fmt.Errorf("the sheet has %d bytes, and at most %d are kept", n, maxFrame)
	}
	binary.LittleEndian.PutUint32(to[start:], uint32(n))
	binary.LittleEndian.PutUint32(to[start+4:], checksum(to[start:]))
	return to, nil
}

// checksum is of a frame with its length, so that a length which was never written does not pass.
func checksum(frame []byte) uint32 {
	return crc32.Update(crc32.Checksum(frame[:4], castagnoli), castagnoli, frame[frameHead:])
}

// content is what is in the frame that data begins with, and what comes after; ok is false where no whole frame is.
func content(data []byte) (inside, rest []byte, ok bool) {
	if len(data) < frameHead {
		return nil, nil, false
	}
	n := binary.LittleEndian.Uint32(data)
	if n > maxFrame || int(n) > len(data)-frameHead {
		return nil, nil, false
	}
	whole := data[:frameHead+int(n)]
	if binary.LittleEndian.Uint32(whole[4:]) != checksum(whole) {
		return nil, nil, false
	}
	return whole[frameHead:], data[len(whole):], true
}

// opening is how a log begins.
func opening(o Origin) ([]byte, error) {
	head := headLine{Path: o.Path, Stamp: []byte(o.Stamp)}
	if !utf8.ValidString(o.Path) {
		head.Bytes = []byte(o.Path)
	}
	line, err := json.Marshal(head)
	if err != nil {
		return nil, err
	}
	return frame([]byte(magic), line)
}

// framed is a record as it is appended to a log.
func (r Record) framed() ([]byte, error) {
	line, err := json.Marshal(recordLine{r.At, r.Changes, r.Place, r.Ended})
	if err != nil {
		return nil, err
	}
	return frame(nil, line, []byte("\n"), r.Sheet)
}

// read is the origin and the last record of a log, as far as the log is whole: what comes after the first damage is not
// looked at, for nobody knows what it is. ok is false where there is no whole record.
func read(data []byte) (o Origin, last Record, ok bool) {
	data, ok = bytes.CutPrefix(data, []byte(magic))
	if !ok {
		return Origin{}, Record{}, false
	}
	inside, data, ok := content(data)
	var head headLine
	if !ok || json.Unmarshal(inside, &head) != nil {
		return Origin{}, Record{}, false
	}
	var newest []byte
	for {
		inside, rest, whole := content(data)
		if !whole {
			break
		}
		newest, data = inside, rest
	}
	line, sheet, ok := bytes.Cut(newest, []byte("\n"))
	var about recordLine
	if !ok || json.Unmarshal(line, &about) != nil {
		return Origin{}, Record{}, false
	}
	o = Origin{head.Path, string(head.Stamp)}
	if head.Bytes != nil {
		o.Path = string(head.Bytes)
	}
	return o, Record{about.At, about.Changes, about.Place, bytes.Clone(sheet), about.Ended}, true
}
