package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
)

// verdictCount is how far a checklist has come.
type verdictCount struct{ items, agreed, objected, notApplicable, open int }

func (v verdictCount) String() string {
	if v.items == 0 {
		return "no checklist items"
	}
	parts := []string{fmt.Sprintf("%d of %d agreed", v.agreed, v.items)}
	if v.objected > 0 {
		parts = append(parts, count(v.objected, "objection", "objections"))
	}
	if v.notApplicable > 0 {
		parts = append(parts, fmt.Sprintf("%d not applicable", v.notApplicable))
	}
	if v.open > 0 {
		parts = append(parts, fmt.Sprintf("%d open", v.open))
	}
	return strings.Join(parts, ", ")
}

// asked lists the checklist items that are asked of a room or of the project.
func (c *Content) asked(of domain.Asked) []domain.ChecklistItem {
	var out []domain.ChecklistItem
	for _, i := range c.project.Checklist {
		if i.For == of {
			out = append(out, i)
		}
	}
	return out
}

// checkLines prints items with their newest verdict and the newest answer to it.
func checkLines(items []domain.ChecklistItem, reviews []domain.Review) ([]CheckLine, verdictCount) {
	byItem := map[domain.ID][]domain.Review{}
	for _, v := range reviews {
		byItem[v.ItemID] = append(byItem[v.ItemID], v)
	}
	var out []CheckLine
	n := verdictCount{items: len(items)}
	for i, item := range items {
		talk := byItem[item.ID]
		slices.SortStableFunc(talk, func(a, b domain.Review) int { return strings.Compare(a.At, b.At) })
		line := CheckLine{Number: strconv.Itoa(i + 1), Subject: item.Subject, Text: item.Text}
		verdict := line.fill(talk)
		switch verdict {
		case domain.Agree:
			n.agreed++
		case domain.Object:
			n.objected++
		case domain.NotApplicable:
			n.notApplicable++
		default:
			n.open++
		}
		out = append(out, line)
	}
	return out, n
}

// fill sets the newest verdict with its comment, and the answer given since.
func (l *CheckLine) fill(talk []domain.Review) domain.Verdict {
	var verdict domain.Verdict
	earlier := 0
	for _, v := range talk {
		if v.Verdict != "" {
			if verdict != "" {
				earlier++
			}
			verdict = v.Verdict
			l.Verdict = string(v.Verdict)
			l.Comment = signed(v.Comment, v.Name, v.At)
			l.Answer = ""
		}
		if v.Answer != "" {
			l.Answer = signed(v.Answer, v.Name, v.At)
		}
	}
	if earlier > 0 {
		l.Comment += fmt.Sprintf(" (%s)", count(earlier, "earlier verdict", "earlier verdicts"))
	}
	return verdict
}

// signed gives "text (name, date)".
func signed(text, name, at string) string {
	who := strings.Join(filledWords(name, day(at)), ", ")
	switch {
	case text == "":
		return who
	case who == "":
		return text
	}
	return text + " (" + who + ")"
}

// day is the date of a time as stored: RFC 3339, UTC.
func day(at string) string {
	if len(at) >= 10 {
		return at[:10]
	}
	return at
}

// roles are the boxes that a room's sheet offers for signing, in the order of the work; the
// installer signs the installer's page.
var roles = []string{"Designer", "Reviewer", "Technician"}

// reviewBlocks state how far the second opinion has come and who signed.
func (r *room) reviewBlocks() []Block {
	lines, n := checkLines(r.c.asked(domain.AskRoom), r.reviews)
	out := []Block{Heading{1, "Review and sign-off"}, Facts{Columns: 2, Items: []Fact{
		{"Second opinion", n.String()}, {"Sign-off", r.signText()},
	}}}
	var objections Checklist
	for _, l := range lines {
		if l.Verdict == string(domain.Object) {
			objections.Items = append(objections.Items, l)
		}
	}
	if len(objections.Items) > 0 {
		out = append(out, Heading{2, "Open objections"}, objections)
	}
	return append(out, r.signatures())
}

func (r *room) signText() string {
	state, standing := SignOffState(r.contentHash(), r.signOffs)
	if state == Unsigned {
		return "not signed"
	}
	var parts []string
	for _, s := range standing {
		parts = append(parts, fmt.Sprintf("%s %s, %s (%s)", s.Role, s.Name, day(s.At), signatureState(s, r.contentHash())))
	}
	return strings.Join(parts, "; ")
}

// signatureState says what one signature is worth now.
func signatureState(s domain.SignOff, hash string) string {
	if s.Hash == hash {
		return "holds for this content"
	}
	return "stale: the room changed since"
}

// signatures are the boxes: filled where a role has signed, lines to sign elsewhere.
func (r *room) signatures() Signatures {
	standing := standingSignOffs(r.signOffs)
	box := func(s domain.SignOff) Signature {
		return Signature{Role: s.Role, Name: s.Name, Date: day(s.At), State: signatureState(s, r.contentHash())}
	}
	var out Signatures
	for _, role := range roles {
		at := slices.IndexFunc(standing, func(s domain.SignOff) bool { return strings.EqualFold(s.Role, role) })
		if at < 0 {
			out.Items = append(out.Items, Signature{Role: role})
			continue
		}
		out.Items = append(out.Items, box(standing[at]))
		standing = slices.Delete(standing, at, at+1)
	}
	for _, s := range standing {
		out.Items = append(out.Items, box(s))
	}
	return out
}
