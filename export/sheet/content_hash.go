package sheet

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"slices"

	"scopewright/domain"
	"scopewright/validate/rule"
)

// hashScheme is part of what is hashed; a new one is needed when the way of hashing
// changes, not when the words on the sheet do.
const hashScheme = "room-scope-1"

// RoomContentHash gives the SHA-256, in hexadecimal, of everything that the room's scope
// sheet prints, but for what belongs to the print and not to the room: revision, date,
// purpose, the names of designer, checker and reviewer, the sheet number, marks of what
// changed since the last issue, the checklist and the signatures. Findings that come and
// go with the calendar alone (battery dates) do not count. A sign-off binds to this hash.
//
// The input's Findings must be the same function wherever hashes are compared.
func RoomContentHash(in Input, resolved *domain.Resolved) string {
	c := bare(in)
	return c.loose(resolved).contentHash()
}

// loose is a room outside of any order.
func (c *Content) loose(resolved *domain.Resolved) *room {
	r := &room{Resolved: resolved, c: c, on: &storey{}}
	r.on.building, r.on.storey = c.project.FindStorey(resolved.StoreyID)
	return r
}

func (r *room) contentHash() string {
	if r.hashDone {
		return r.hash
	}
	r.hashDone = true
	change := r.change
	r.change = nil
	r.plain = r.designBlocks(r.lastingFindings())
	r.change = change
	var l lines
	l.add(hashScheme)
	for _, b := range r.plain {
		if _, plan := b.(Drawing); !plan { // what is drawn counts, not how
			l.block(b)
		}
	}
	l = append(l, r.drawn()...)
	l = append(l, "origin")
	p := r.c.project
	l = append(l, p.Name, p.Number, p.Client, p.Address, r.on.buildingName(), r.storeyOnly(), r.Label(), unitsName(p.Units))
	if p.Invented {
		l = append(l, InventedNotice)
	}
	r.hash = hashOf(l)
	return r.hash
}

func (r *room) storeyOnly() string {
	if r.on.storey == nil {
		return ""
	}
	return r.on.storey.Name
}

// hashOf hashes texts with their lengths, so that no two lists run together alike.
func hashOf(texts []string) string {
	h := sha256.New()
	var size [8]byte
	buf := make([]byte, 0, 4096)
	for _, t := range texts {
		binary.BigEndian.PutUint64(size[:], uint64(len(t)))
		buf = append(append(buf, size[:]...), t...)
		if len(buf) > 3072 {
			h.Write(buf)
			buf = buf[:0]
		}
	}
	h.Write(buf)
	return hex.EncodeToString(h.Sum(nil))
}

// lastingFindings judges the room without the dates on which batteries were fitted, so
// that a signature does not lapse because a day has passed.
func (r *room) lastingFindings() []rule.Finding {
	if !r.dated() || r.c.in.Findings == nil {
		return r.findings()
	}
	undated := *r.Resolved
	undated.Design.Devices = slices.Clone(undated.Design.Devices)
	for i := range undated.Design.Devices {
		undated.Design.Devices[i].Fitted = ""
	}
	return r.c.in.Findings(&undated)
}

// dated tells that a battery's date is known, so that the calendar may bring findings.
func (r *room) dated() bool {
	return slices.ContainsFunc(r.Design.Devices, func(d domain.Device) bool { return d.Fitted != "" })
}

// printedBlocks are the design as this print shows it: what was hashed, unless changes are
// to be marked or the calendar has its say.
func (r *room) printedBlocks() []Block {
	if r.contentHash(); r.change == nil && !r.dated() {
		return r.plain
	}
	return r.designBlocks(r.findings())
}

// SignState is what the signatures under a room are worth.
type SignState string

// The states: nobody signed, all signatures hold, or what prints has changed since one.
const (
	Unsigned SignState = "not signed"
	Signed   SignState = "signed"
	Stale    SignState = "stale"
)

// SignOffState tells what the sign-offs of a room are worth for its content as hashed
// now, with the newest standing sign-off of each role, in order of time.
func SignOffState(hash string, signOffs []domain.SignOff) (SignState, []domain.SignOff) {
	standing := standingSignOffs(signOffs)
	state := Unsigned
	for _, s := range standing {
		if s.Hash != hash {
			return Stale, standing
		}
		state = Signed
	}
	return state, standing
}

// standingSignOffs keeps the newest sign-off of each role that was not taken back.
func standingSignOffs(signOffs []domain.SignOff) []domain.SignOff {
	var out []domain.SignOff
	for _, s := range signOffs {
		if s.Withdrawn != "" {
			continue
		}
		at := slices.IndexFunc(out, func(o domain.SignOff) bool { return o.Role == s.Role })
		switch {
		case at < 0:
			out = append(out, s)
		case out[at].At <= s.At:
			out = append(slices.Delete(out, at, at+1), s)
		}
	}
	return out
}
