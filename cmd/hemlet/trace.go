package main

import (
	"fmt"
	"os"
	"runtime/trace"
)

// traceEnv names a file to which the program writes, while it runs, what it does when:
// how long each step of a drag and each painting of the bench takes in the real window.
const traceEnv = "HEMLET_TRACE"

// startTrace begins the trace that the environment asks for, if it does, and returns
// what ends it.
func startTrace() (stop func(), err error) {
	path := os.Getenv(traceEnv)
	if path == "" {
		return func() {}, nil
	}
	file, err := os.Create(path)
	if err != nil {
		return nil, fmt.Errorf("the trace: %w", err)
	}
	if err := trace.Start(file); err != nil {
		file.Close()
		return nil, fmt.Errorf("the trace: %w", err)
	}
	return func() {
		trace.Stop()
		file.Close()
	}, nil
}
