package strictjson

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/internal/input"
)

type part struct {
	Bore   float64 `json:"bore_mm"`
	Starts int     `json:"starts"`
}

type whole struct {
	Name  string `json:"name"`
	Fixed bool   `json:"fixed"`
	Part  part   `json:"part"`
}

func TestDecode(t *testing.T) {
	var w whole
	require.NoError(t, Decode([]byte("\xef\xbb\xbf{\"name\": \"y\", \"fixed\": false, \"part\": {\"starts\": 2, \"bore_mm\": 1}}"), &w), "marked as UTF-8")
	require.NoError(t, Decode([]byte(`{"part": {"starts": 1, "bore_mm": 2e1}, "name": "x", "fixed": true}`), &w))
	assert.Equal(t, whole{"x", true, part{20, 1}}, w)
}

func TestDecodeReportsEveryFault(t *testing.T) {
	w := whole{Name: "kept"}
	err := Decode([]byte(`{"name": 3, "fixed": null, "colour": 1, "part": {"bore_mm": "20", "starts": 1.5, "starts": 2, "pitch": 0}}`), &w)
	require.ErrorIs(t, err, input.ErrInvalid)
	for _, line := range []string{
		"name is 3: a text in quotes is needed",
		"fixed is null: true or false is needed",
		"colour is not a known key: allowed name, fixed, part",
		`part.bore_mm is the text "20": a number is needed`,
		"part.starts = 1.5: a whole number is needed",
		"part.starts is there twice",
		"part.pitch is not a known key: allowed bore_mm, starts",
	} {
		assert.ErrorContains(t, err, line)
	}
	assert.Equal(t, whole{Name: "kept"}, w, "nothing half read")
}

func TestDecodeMissing(t *testing.T) {
	var w whole
	err := Decode([]byte(`{"name": "x", "part": {"bore_mm": 1e999}}`), &w)
	assert.ErrorContains(t, err, "fixed is missing: true or false is needed")
	assert.ErrorContains(t, err, "part.starts is missing: a whole number is needed")
	assert.ErrorContains(t, err, "part.bore_mm = 1e999 is too large a number")
	for text, tiny := range map[string]bool{"7e-999": true, "-0.1E-400": true, "0.0e-999": false, "0": false, "5e-324": false} {
		err = Decode([]byte(`{"name": "x", "fixed": true, "part": {"starts": 1, "bore_mm": `+text+`}}`), &w)
		assert.Equal(t, tiny, err != nil, "%s: %v", text, err)
	}
}

func TestDecodeNotJSON(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "line 1, column 1: the file ends too early",
		`{"name":`:                    "the file ends too early",
		"{\n  \"name\": NaN\n}":       "line 2",
		"\xff\xfe{\x00}\x00":          "save it as UTF-8",
		"{\"name\": \"r\xe9cup\"}":    "is not UTF-8",
		`{"part": 1,6}`:               "decimal point",
		`[]`:                          "the file is a list, not an object in braces",
		`null`:                        "the file is null",
		`{"name": "x"} {}`:            "something follows",
		"{\"name\": \"x\",\n\"a\" 1}": "line 2",
		strings.Repeat("[", 1e6):      "nested too deeply",
	} {
		var w whole
		err := Decode([]byte(text), &w)
		require.ErrorIs(t, err, input.ErrInvalid, text)
		assert.ErrorContains(t, err, want, text)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"part": {"starts": 1, "bore_mm": 2e1}, "name": "x", "fixed": true}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var w whole
		if err := Decode(data, &w); err != nil {
			require.ErrorIs(t, err, input.ErrInvalid)
			require.Zero(t, w)
		}
	})
}
