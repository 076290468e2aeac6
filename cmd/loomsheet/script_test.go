package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"loomsheet": main, "step-writer": stepWriter})
}

// TestScripts runs the command as a person would, one script for each thing a person may rely on.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", UpdateScripts: *update, Setup: func(e *testscript.Env) error {
		e.Setenv("HOME", e.WorkDir)
		return os.MkdirAll(e.WorkDir, 0o755)
	}})
}
