// Package bodytest provides bodies to test with: those of a survey of people, and
// random ones as odd as puppets are.
package bodytest
