package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func Example() {
	main()
	// Output: 1.71 kg/h at 27 bar, 1.9 N·m
}

// The README shows this program; what it shows must be what compiles.
func TestReadmeShowsThisProgram(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	code, err := os.ReadFile("main.go")
	require.NoError(t, err)
	_, code2, found := strings.Cut(string(code), "package main\n")
	require.True(t, found)
	assert.Contains(t, string(readme), "```go\npackage main\n"+code2+"```")
}
