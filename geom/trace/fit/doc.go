// Package fit turns the dense points of a followed outline into the few lines and
// cubics that a pattern maker would have drawn: corners first, straight runs
// straight, the rest as few cubics as the points ask for, smooth where the line is
// smooth.
//
// The way from points to a path:
//
//   - even.go walks the points at equal steps.
//   - corner.go finds corners by the turn between one-sided tangents (arms.go), and
//     tells them from specks.
//   - leaveout.go says how far from a corner the blur or the pen has moved the
//     points, which are then passed over: a corner is where its neighbours meet.
//   - runs.go divides each run between two corners into lines and cubics by dynamic
//     programming; choose.go decides how many of them the points justify.
//   - chain.go, foot.go and together.go fit all of them at once by Gauss-Newton
//     steps on the distances along the normals.
//   - smooth.go asks of every weak corner whether a smooth join would do, and of
//     every smooth join whether it hides a corner.
//   - crossing.go sees to it that no result crosses itself.
package fit
