// Package tracing brings pictures of a project through the tracer and makes the arguments
// of an act of what was found: the same from the window and from a terminal.
//
//	traced, err := tracing.Run(ctx, sources, settings, progress)
//	out, err := draft.ImportTraced.Do(project, traced.Args(madeFor, traced.All()))
package tracing
