package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// PartitionStuck asks what opens and closes a partition that the room counts on.
var PartitionStuck = rule.Rule{
	ID: "sequence-partition-stuck", Title: "Partition that nothing opens or closes", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Cells for the open partition never come to be, or the room stays one after somebody has closed it.",
	Source:  commonPractice,
	Example: "A cell that counts @open passes with one contact intent that joins the room and one that divides it; with one of them alone, or none, it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		opens := anyIntent(f, func(in *domain.Intent) bool { return in.Do == domain.PartitionJoins })
		closes := anyIntent(f, func(in *domain.Intent) bool { return in.Do == domain.PartitionParts })
		if opens == closes && (opens || !countsOnPartition(f)) {
			return nil
		}
		out := rule.Finding{Subjects: partitionSubjects(f)}
		missing := "opens or closes it: add a contact intent that joins the room and one that divides it"
		switch {
		case opens:
			missing = "closes it again: add an intent that divides the room, for the contact's other state"
		case closes:
			missing = "opens it: add an intent that joins the room, for the contact's other state"
		}
		out.Message = fmt.Sprintf("The room speaks of a partition, and nothing %s.", missing)
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return halves(domain.PartitionJoins) },
	Quiet: func() *domaintest.Builder { return halves(domain.PartitionJoins, domain.PartitionParts) },
}

// countsOnPartition tells that a cell or an intent counts in one state only.
func countsOnPartition(f *rule.Facts) bool {
	return anyLink(f, func(k *rule.Link) bool { return k.Do.If != "" }) || anyIntent(f, func(in *domain.Intent) bool { return in.Partition != "" })
}

// partitionSubjects names what speaks of the partition: intents first, else the
// devices whose cells do.
func partitionSubjects(f *rule.Facts) []rule.Subject {
	var out []rule.Subject
	for i := range f.Design.Intents {
		if in := &f.Design.Intents[i]; in.MovesPartition() || in.Partition != "" {
			out = append(out, rule.IntentSubject(in))
		}
	}
	for i := range f.Devices {
		d := &f.Devices[i]
		if anyLink(f, func(k *rule.Link) bool { return k.From == d && k.Do.If != "" }) {
			out = append(out, d.Subject())
		}
	}
	return out
}

// halves gives a classroom with a partition that a contact input reports, by
// intents that do as told.
func halves(does ...domain.Response) *domaintest.Builder {
	b := domaintest.Classroom().Working(1, "cn-2").Link("st", 1, domain.Press, "l1", "SC1 @open").Set("intents/for-w1/do", string(does[0]))
	for _, do := range does[1:] {
		b.Intent("other", domain.ByContact).Set("intents/other/device", "w1", "intents/other/command", "open", "intents/other/do", string(do))
	}
	return b
}
