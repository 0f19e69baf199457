package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
)

func TestStartChecklist_asksRoomsAndProject(t *testing.T) {
	list := domain.StartChecklist()
	assert.GreaterOrEqual(t, len(list), 70)
	ids, texts, asked := map[domain.ID]bool{}, map[string]bool{}, map[domain.Asked]int{}
	for i, item := range list {
		assert.True(t, item.ID.Valid(), item.ID)
		assert.False(t, ids[item.ID], "ID %s stands twice", item.ID)
		assert.False(t, texts[item.Text], "%q stands twice", item.Text)
		ids[item.ID], texts[item.Text] = true, true
		assert.Equal(t, i+1, item.Seq)
		assert.NotEmpty(t, item.Subject)
		assert.Regexp(t, `^[A-Z].*\?$`, item.Text, "an item is a question")
		assert.Contains(t, []domain.Asked{domain.AskRoom, domain.AskProject}, item.For)
		asked[item.For]++
	}
	assert.Greater(t, asked[domain.AskRoom], 40)
	assert.Greater(t, asked[domain.AskProject], 15)
	list[0].Text = "changed"
	assert.NotEqual(t, "changed", domain.StartChecklist()[0].Text, "each project has its own copy")
}

func TestCautions_deferToCodesAndLicensedPeople(t *testing.T) {
	for _, c := range domain.Cautions() {
		assert.NotEmpty(t, c.Title)
		assert.NotEmpty(t, c.Text)
	}
	for _, c := range []domain.Caution{domain.CautionEgress, domain.CautionMains} {
		assert.Contains(t, c.Text, "licensed")
		assert.Contains(t, c.Text, "local code")
	}
	assert.Contains(t, domain.CautionFooter, "licensed")
}
