package intake

// role is what a column of a foreign list means: a canonical column by its name, or one of the
// roles below that lead to canonical columns in other ways.
type role string

// Roles that are no canonical column.
const (
	roleIgnore     role = "ignore"
	roleRowNo      role = "row_no"
	roleDirection  role = "direction"     // "Input", "Command"
	roleNature     role = "nature"        // "Analog", "Bool"
	roleRange      role = "range"         // "0-10 bar"
	roleElectrical role = "electrical"    // free text on supply, level, wiring
	roleNormal     role = "normal"        // normal position
	roleAlarmLL    role = "alarm_low_low" // kept in the remarks
	roleAlarmHH    role = "alarm_high_high"
	roleAlarm      role = "alarm" // free text: "H 8.5 / L 2"
	roleRack       role = "rack"
	roleSlot       role = "slot"
	roleChannel    role = "channel"
	roleAddress    role = "address"
	roleSymbol     role = "symbol"   // name in the controller; the tag where there is no other
	roleLoop       role = "loop"     // loop number; device where none is given
	roleOldTag     role = "old_tag"  // kept in the remarks
	roleFunction   role = "function" // part of a device that the row speaks of: "Run", "Fault"
	roleRevision   role = "revision"
	roleStatus     role = "status" // "deleted", "new", "TBC"
	roleQuantity   role = "quantity"
	roleTagPart    role = "tag_part" // one of several columns that make the tag
	roleEx         role = "ex"       // free text on Ex
	roleBox        role = "junction_box"
	rolePanel      role = "panel"
	roleDocument   role = "document"
	roleMaker      role = "maker"
	roleSetpoint   role = "setpoint" // of a switch; kept in the remarks
	roleRating     role = "rating"   // power of a load
	roleSafety     role = "safety"   // "SIL 2", "yes"
	roleSource     role = "source"   // how the signal comes: "hardwired", "Modbus"
	roleNote       role = "note"     // further columns kept in the remarks with their heading
)

// countRole is a column of marks or counts of one kind: countRole("DI").
func countRole(kind string) role { return role("count:" + kind) }

func (r role) count() (string, bool) {
	if len(r) > 6 && r[:6] == "count:" {
		return string(r[6:]), true
	}
	return "", false
}

// several reports whether more than one column may have the role.
func (r role) several() bool {
	switch r {
	case "description", "remarks", roleTagPart, roleNote, roleIgnore, roleElectrical, roleDocument, roleMaker, roleRowNo, roleAlarm, roleEx:
		return true
	}
	_, ok := r.count()
	return ok
}
