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
	// Output: 1.61 kg/h at 26 bar, 2.1 N·m
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
