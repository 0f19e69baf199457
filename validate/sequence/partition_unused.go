package sequence

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// PartitionUnused asks what changes when the partition opens.
var PartitionUnused = rule.Rule{
	ID: "sequence-partition-unused", Title: "Partition that changes nothing", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A divisible room has a table for each of its states; with one for both, a station in one half lights the other half's meeting.",
	Source:  commonPractice,
	Example: "Intents that join and divide the room pass where a cell counts @open or an intent while the partition is closed; where nothing asks for its state they do not.",
	Check: func(f *rule.Facts) []rule.Finding {
		if countsOnPartition(f) || !anyIntent(f, (*domain.Intent).MovesPartition) {
			return nil
		}
		return []rule.Finding{{Subjects: partitionSubjects(f),
			Message: "Intents join and divide the room, and no cell of the matrix and no intent counts in one of these states only: write @open or @closed behind the cells that differ, like SC1 @open."}}
	},
	Fires: func() *domaintest.Builder {
		return halves(domain.PartitionJoins, domain.PartitionParts).Link("st", 1, domain.Press, "l1", "SC1")
	},
	Quiet: func() *domaintest.Builder { return halves(domain.PartitionJoins, domain.PartitionParts) },
}
