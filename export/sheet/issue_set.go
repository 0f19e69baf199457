package sheet

// IssueSet is everything in the order of sheet numbers: cover with index, general notes,
// what changed, the plans, the schedules, then the scope sheets and the installer's pages of all
// rooms. Reviewers' checklists room by room are a document of their own; the set holds
// their state.
func IssueSet(c *Content) []Sheet {
	sheets := append([]Sheet{c.generalNotes()}, c.changesSheet()...)
	for _, build := range []func(*Content) []Sheet{StoreyPlans, LoadSchedule, DeviceSchedule, BillOfMaterials, LuminaireSchedule, EquipmentAndLimits,
		BatteryPlan, ControlMatrix, SceneTable, SequenceOfOperations, FindingsAndWaivers} {
		sheets = append(sheets, build(c)...)
	}
	sheets = append(sheets, c.projectReview())
	sheets = append(sheets, RoomScope(c)...)
	sheets = append(sheets, InstallerPage(c)...)
	return append([]Sheet{c.cover(sheets)}, sheets...)
}
