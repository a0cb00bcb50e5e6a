package draft

// Mend is an act, with all its arguments, that puts a finding right or makes it smaller.
type Mend struct {
	// Title says in plain words what it does: "Make the longer side shorter".
	Title string
	// Act is the name of an act in the register, Args its arguments as text.
	Act  string
	Args map[string]string
}

// Do does what a mend says. On error the project is nil.
func (p *Project) Do(m Mend) (Outcome, error) {
	act, err := ActNamed(m.Act)
	if err != nil {
		return Outcome{}, err
	}
	return act.DoText(p, m.Args)
}
