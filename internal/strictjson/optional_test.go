package strictjson

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/internal/input"
)

type machine struct {
	Spare *part             `json:"spare,omitempty"`
	Parts []part            `json:"parts"`
	Notes map[string]string `json:"notes"`
	Limit *float64          `json:"limit_k,omitempty"`
	Aside func()            `json:"-"`
}

func TestDecodeOptionalListsAndMaps(t *testing.T) {
	var m machine
	require.NoError(t, Decode([]byte(`{"parts": [], "notes": {}}`), &m))
	assert.Equal(t, machine{Parts: []part{}, Notes: map[string]string{}}, m)

	limit := 400.0
	full := machine{Spare: &part{2, 1}, Parts: []part{{3, 2}, {4, 5}}, Notes: map[string]string{"a": "x", "": "y"}, Limit: &limit}
	text, err := json.Marshal(full)
	require.NoError(t, err)
	require.NoError(t, Decode(text, &m))
	assert.Equal(t, full, m, "back as it was")
}

func TestDecodeOptionalReportsEveryFault(t *testing.T) {
	m := machine{Notes: map[string]string{"kept": ""}}
	err := Decode([]byte(`{"spare": {"starts": 1}, "limit_k": "hot", "-": 1,
		"parts": [{"bore_mm": 1, "starts": 1}, 7, {"bore_mm": null, "starts": 1, "starts": 1, "x": 0}], "notes": {"a": 1, "b": "y", "b": "z"}}`), &m)
	require.ErrorIs(t, err, input.ErrInvalid)
	for _, line := range []string{
		"spare.bore_mm is missing: a number is needed",
		`limit_k is the text "hot": a number is needed`,
		"- is not a known key: allowed spare, parts, notes, limit_k",
		"parts[1] is 7: an object in braces is needed",
		"parts[2].bore_mm is null: a number is needed",
		"parts[2].starts is there twice",
		"parts[2].x is not a known key: allowed bore_mm, starts",
		"notes.a is 1: a text in quotes is needed",
		"notes.b is there twice",
	} {
		assert.ErrorContains(t, err, line)
	}
	assert.Equal(t, machine{Notes: map[string]string{"kept": ""}}, m, "nothing half read")

	err = Decode([]byte(`{"spare": null, "parts": {}, "notes": []}`), &m)
	for _, line := range []string{
		"spare is null: an object in braces is needed",
		"parts is an object: a list in brackets is needed",
		"notes is a list: an object in braces is needed",
	} {
		assert.ErrorContains(t, err, line)
	}
	assert.ErrorContains(t, Decode([]byte(`{}`), &m), "parts is missing: a list in brackets is needed")
	assert.ErrorContains(t, Decode([]byte(`{}`), &m), "notes is missing: an object in braces is needed")
}
