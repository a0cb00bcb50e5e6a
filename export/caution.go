package export

// Notices returns the usual cautions about the machine that the file is for; the
// caller shows them, and the file carries them where no machine cuts them. There
// are none for the pen.
func (p Purpose) Notices() []string {
	switch p {
	case Blade:
		return []string{
			"Blade: keep fingers, hair and sleeves away from a moving blade; cover or retract it when it is not cutting, and keep it from children. Try depth and speed on a scrap first.",
			"Follow your local rules and the instructions of the machine and of the material.",
		}
	case Laser:
		return []string{
			"Laser: never cut vinyl (PVC), imitation leather, or anything whose make you do not know: chlorinated plastics give off fumes that harm lungs and machine. Draw off all fumes, keep a fire extinguisher at hand, and never leave the machine alone while it runs.",
			"Follow your local rules and the instructions of the machine and of the material.",
		}
	default:
		return nil
	}
}
