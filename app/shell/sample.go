package shell

// sample opens the sample that comes with the program.
func (f *files) sample() { f.guard(func() { f.Sample() }) }

// Sample opens the sample that comes with the program, as a project that has no
// file yet.
func (f *files) Sample() bool {
	p, err := f.s.freshSample()
	if err != nil {
		f.s.tell("The sample could not be opened", err.Error())
		return false
	}
	f.stamp = nil
	f.opened(p, "")
	f.s.sampleOpen = true
	return true
}
