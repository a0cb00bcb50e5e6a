// Package drafttest makes random projects for property tests. They are sound as
// draft.Validate has it and use everything that the model has; as patterns they
// are nonsense.
package drafttest
