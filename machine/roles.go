package machine

// Roles lists what can be hit on every machine: the report says of each
// whether it is modelled.
var Roles = []string{
	"head", "spindle nose", "column", "table", "guards", "changer", "hoses", "stock", "tool",
}

// moreRoles may be stated in a file too; nothing is missing where they are.
var moreRoles = []string{"workholding", "part", "bed", "other"}

// cutRoles are those of what parts are cut from: only that may meet what cuts.
var cutRoles = []string{"stock", "part"}
