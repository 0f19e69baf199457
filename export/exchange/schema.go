package exchange

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"scopewright/domain"
	"scopewright/domain/units"
)

//go:embed schema.json
var schemaJSON []byte

// Schema gives the JSON Schema (2020-12) of the exchange file.
func Schema() []byte { return bytes.Clone(schemaJSON) }

// parts of the document that are checked one by one, so that memory does not
// grow with the number of rooms.
var schemas = sync.OnceValues(func() (map[string]*jsonschema.Schema, error) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schemaJSON))
	if err != nil {
		return nil, err
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		return nil, err
	}
	out := map[string]*jsonschema.Schema{}
	for _, part := range []string{"project", "typical", "plan", "room", "review", "sign_off"} {
		if out[part], err = c.Compile("schema.json#/$defs/" + part); err != nil {
			return nil, err
		}
	}
	return out, nil
})

// fits checks one part, decoded into plain maps and lists, and gives what is
// wrong with it below path.
func fits(part, path string, value any) ([]domain.Problem, error) {
	known, err := schemas()
	if err != nil {
		return nil, fmt.Errorf("exchange: built-in schema: %w", err) // a test compiles it
	}
	var invalid *jsonschema.ValidationError
	switch err := known[part].Validate(value); {
	case err == nil:
		return nil, nil
	case !errors.As(err, &invalid):
		return nil, err
	}
	var out []domain.Problem
	leaves(invalid, func(e *jsonschema.ValidationError) {
		if len(out) < domain.MostProblems {
			out = append(out, domain.Problem{Path: path + below(e.InstanceLocation), Message: sentence(e.ErrorKind)})
		}
	})
	return out, nil
}

func leaves(e *jsonschema.ValidationError, visit func(*jsonschema.ValidationError)) {
	if len(e.Causes) == 0 {
		visit(e)
	}
	for _, c := range e.Causes {
		leaves(c, visit)
	}
}

func below(steps []string) string {
	var b strings.Builder
	for _, s := range steps {
		b.WriteByte('/')
		b.WriteString(escaped(s))
	}
	return b.String()
}

var english = message.NewPrinter(language.English)

// sentence says what is wrong and how to mend it.
func sentence(k jsonschema.ErrorKind) string {
	switch k := k.(type) {
	case *kind.AdditionalProperties:
		return fmt.Sprintf("%s is not a field of the exchange file: take it out or mend its spelling", quoted(k.Properties))
	case *kind.Required:
		return fmt.Sprintf("%s is missing", quoted(k.Missing))
	case *kind.Type:
		return fmt.Sprintf("this is %s and must be %s", k.Got, domain.JoinOr(k.Want))
	case *kind.Enum:
		words := make([]string, 0, len(k.Want))
		for _, w := range k.Want {
			if s, ok := w.(string); ok && s != "" {
				words = append(words, s)
			}
		}
		return fmt.Sprintf("%q is not known: use %s", short(fmt.Sprint(k.Got)), domain.JoinOr(words))
	case *kind.Minimum:
		want, _ := k.Want.Float64()
		return fmt.Sprintf("the number is too small: use %s or more", units.Trim(want, 6))
	case *kind.Maximum:
		want, _ := k.Want.Float64()
		return fmt.Sprintf("the number is too large: use at most %s", units.Trim(want, 6))
	case *kind.MaxLength:
		return fmt.Sprintf("the text has %d letters; at most %d fit", k.Got, k.Want)
	case *kind.MinLength:
		return "the text is empty and must not be"
	case *kind.MaxItems:
		return fmt.Sprintf("the list has %d elements; at most %d can be read", k.Got, k.Want)
	case *kind.Pattern:
		return fmt.Sprintf("%q does not have the form %s", short(k.Got), k.Want)
	}
	return k.LocalizedString(english)
}

func quoted(names []string) string {
	out := make([]string, 0, len(names))
	for _, n := range names[:min(len(names), 10)] {
		out = append(out, fmt.Sprintf("%q", short(n)))
	}
	return domain.JoinWords(out)
}
