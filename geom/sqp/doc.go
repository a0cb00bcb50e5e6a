// Package sqp finds the least change of unknowns under rules that are not linear: hard
// ones, ones that are not to be less than zero, and wishes, which are met as far as they
// can be.
//
// The unknowns come in blocks, one for each shape of a garment, that the metric of the
// change does not couple. The method is sequential quadratic programming (Nocedal and
// Wright 2006, chapter 18) with exact first and second derivatives: each step factorises
// one small matrix for each block, and one with a row for each rule (the Schur complement).
// Wishes enter as a penalty that hardens (Tikhonov regularisation) until they are met.
package sqp
