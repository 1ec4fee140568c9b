package chart

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
)

func labels(ticks []plot.Tick) (list []string) {
	for _, t := range ticks {
		list = append(list, t.Label)
	}
	return list
}

func TestTicks(t *testing.T) {
	assert.Equal(t, []string{"-10", "-5", "0", "5"}, labels(EveryTicks(5).Ticks(-12, 9.9)))
	assert.Equal(t, "0", EveryTicks(5).Ticks(-4, 4)[0].Label, "no minus before it")
	assert.Equal(t, []string{"0.5", "1"}, labels(TicksAt(0.5, 1)))
	for _, tick := range (RoundTicks{}).Ticks(30, 2000) {
		assert.True(t, tick.Value >= 30 && tick.Value <= 2000)
	}
	assert.Equal(t, []string{"30", "", "50"}, labels(RoundTicks{}.Ticks(30, 59)))
}

// Panels below one another each have their words, and letters fall back on fonts of the
// same widths.
func TestPanels(t *testing.T) {
	upper, lower := New("both", "", "pressure / bar"), New("", "position / mm", "temperature / °C")
	line := plotter.XYs{{X: 0, Y: 1}, {X: 2, Y: 3}}
	require.NoError(t, Line(upper, "a", line, Blue, Dashes[1]...))
	require.NoError(t, Line(lower, "", line, Red))
	require.NoError(t, Dot(lower, "here", 1, 2))
	require.NoError(t, Word(lower, "a word", 1, 2, Grey))
	svg, err := SVG(upper, lower)
	require.NoError(t, err)
	for _, word := range []string{"both", "pressure / bar", "temperature / °C", "position / mm", "here", "a word", "Liberation Sans,Arial,Helvetica,sans-serif"} {
		assert.Contains(t, string(svg), word)
	}
	assert.True(t, strings.HasSuffix(strings.TrimSpace(string(svg)), "</svg>"))
	assert.Error(t, Line(upper, "no number", plotter.XYs{{X: math.NaN()}}, Blue))
}

func TestWriteAllOrNone(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(folder, "b.svg"), 0o755))
	_, err := Write(folder, []Picture{{"a.svg", []byte("a")}, {"b.svg", []byte("b")}})
	assert.ErrorContains(t, err, "b.svg is a folder")
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, left, 1)
	names, err := Write(filepath.Join(folder, "new"), []Picture{{"a.svg", []byte("a")}})
	require.NoError(t, err)
	written, err := os.ReadFile(names[0])
	require.NoError(t, err)
	assert.Equal(t, "a", string(written))
}
