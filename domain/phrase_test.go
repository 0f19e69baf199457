package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

// slots gives how often each field stands in clauses.
func slots(clauses ...domain.Clause) map[string]int {
	n := map[string]int{}
	for _, c := range clauses {
		for _, p := range c.Pieces {
			if p.Field != "" {
				n[p.Field]++
			}
		}
	}
	return n
}

func clausesOf(p domain.Phrase) []domain.Clause {
	return append(append(append([]domain.Clause{}, p.Says...), p.More...), p.Condition...)
}

// What can be set must be seen, and once: two slots of one field would disagree
// while one of them is being typed in.
func TestPhrase_holdsEachFieldOfItsKindOnce(t *testing.T) {
	for _, kind := range domain.IntentKinds() {
		want := map[string]int{}
		for _, f := range domain.IntentFields(kind) {
			want[f.Name] = 1
		}
		assert.Equal(t, want, slots(clausesOf(domain.PhraseOf(kind))...), kind)
	}
}

func TestPhrase_keepsTheConditionApart(t *testing.T) {
	for _, kind := range domain.IntentKinds() {
		p := domain.PhraseOf(kind)
		got := slots(p.Condition...)
		for _, name := range domain.ConditionFields() {
			assert.Equal(t, 1, got[name], "%s: %s", kind, name)
		}
		assert.Len(t, got, len(domain.ConditionFields()))
	}
}

// A yes-or-no field reads as words in the sentence; the others have a slot with
// nothing but what it holds.
func TestPhrase_wordsYesAndNo(t *testing.T) {
	for _, kind := range domain.IntentKinds() {
		for _, c := range clausesOf(domain.PhraseOf(kind)) {
			for _, p := range c.Pieces {
				if p.Field == "" {
					assert.NotEmpty(t, strings.TrimSpace(p.Words))
					assert.NotContains(t, p.Words, "{", "a slot that was not read: %q", p.Words)
					continue
				}
				f, err := domain.IntentFieldNamed(p.Field)
				require.NoError(t, err)
				in := domain.Intent{Kind: kind}
				yesNo := f.Choices != nil && f.Show(domain.Env{Project: &domain.Project{}}, &in) == "no"
				assert.Equal(t, yesNo, p.Yes != "" && p.No != "", "%s: %s", kind, p.Field)
			}
		}
	}
}

// Of a fresh intent each kind shows a sentence that ends.
func TestPhrase_ofAFreshIntentReads(t *testing.T) {
	read := func(in domain.Intent) string {
		var words []string
		for _, c := range domain.PhraseOf(in.Kind).Says {
			if !c.Holds(&in) {
				continue
			}
			for _, p := range c.Pieces {
				word := p.Words
				if p.Field != "" {
					f, _ := domain.IntentFieldNamed(p.Field)
					if word = f.Show(domain.Env{Project: &domain.Project{}}, &in); word == "" {
						word = p.Blank
					}
					if p.Yes != "" {
						word = map[string]string{"yes": p.Yes, "no": p.No}[word]
					}
				}
				words = append(words, word)
			}
		}
		return strings.NewReplacer(" ,", ",", " .", ".", " ;", ";", " :", ":").Replace(strings.Join(words, " "))
	}
	assert.Equal(t, "For all lighting loads: when someone enters, they stay dark until a person presses. When all sensors have reported vacant for 20 min, they dip to 50 % of their level for 1 min as a warning and then go to 0 % in 2 s.",
		read(domain.NewIntent("i", domain.ByPresence)))
	assert.Equal(t, "When people enter, all controlled receptacles go live; when the room has been vacant for 20 min they go dead. No wall station acts on them.",
		read(domain.NewIntent("i", domain.ForReceptacles)))
	assert.Equal(t, "While the emergency signal is on, all lighting loads are locked at 100 % and nothing else acts on them.",
		read(domain.NewIntent("i", domain.OnEmergency)))
	back := domain.NewIntent("i", domain.OnPowerBack)
	assert.NotContains(t, read(back), "0 %")
	back.Restore = domain.RestoreSet
	assert.Contains(t, read(back), "go to level 0 %;")
}
