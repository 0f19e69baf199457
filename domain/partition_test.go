package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
)

func TestDivisible(t *testing.T) {
	cell := domain.Action{Verb: domain.ToScene, Scene: 1}
	limited := cell
	limited.If = domain.PartitionOpen
	for what, c := range map[string]struct {
		d    domain.Design
		want bool
	}{
		"nothing":                            {domain.Design{}, false},
		"a plain room":                       {domain.Design{Intents: []domain.Intent{domain.NewIntent("i", domain.ByHand)}, Links: []domain.Link{{Do: cell}}}, false},
		"a cell that counts while open":      {domain.Design{Links: []domain.Link{{Do: cell}, {Do: limited}}}, true},
		"an intent that counts while closed": {domain.Design{Intents: []domain.Intent{{Kind: domain.ByHand, Partition: domain.PartitionClosed}}}, true},
		"a contact that opens it":            {domain.Design{Intents: []domain.Intent{{Kind: domain.ByContact, Do: domain.PartitionJoins}}}, true},
	} {
		assert.Equal(t, c.want, c.d.Divisible(), what)
	}
}
