package machine

import "regexp"

// examples says how a key is written that is missing or has no table, by its
// path from the root without places in arrays. Every required key is here.
var examples = map[string]string{
	"name":    `name = "..."`,
	"units":   `units = "mm" or "inch"`,
	"up":      `up = [0, 0, 1], against gravity`,
	"role":    `role = "workholding", "stock" or "part"`,
	"solid":   `[[solid]], once or more`,
	"machine": `machine = "file.toml"`,
	"demand":  `[demand] with default = 2, the clearance to prove`,

	"demand.default":        `default = 2, the clearance to prove`,
	"demand.pair.bodies":    `bodies = ["vise", "trunnion/cradle"], two bodies or units`,
	"demand.pair.clearance": `clearance = 0.5`,
	"demand.pair.reason":    `reason = "...", which the report prints`,

	"axis.direction":      `direction = [1, 0, 0]`,
	"spindle.carried_by":  `carried_by = "Z", another axis or "bed"`,
	"spindle.gauge_point": `gauge_point = [0, 0, 120], on the spindle's axis and the gauge line`,
	"spindle.axis":        `axis = [0, 0, 1], from the tip of a tool to the spindle`,
	"tool.diameter":       `diameter = 80`,
	"tool.length":         `length = 180, from the gauge line to the foremost point`,

	"solid.name":        `name = "..."`,
	"solid.file":        `file = "file.stl"`,
	"solid.chord_error": `chord_error = 0.02, how far the true surface can be from the facets`,
	"solid.role":        `role = "table" or what else it is`,

	"tool_change.zone.name": `name = "..."`,
	"holder.name":           `name = "..."`,
	"cutter.name":           `name = "..."`,
	"cutter.kind":           `kind = "drill" or what else it is`,
	"tool.number":           `number = 1, as the program calls it`,
	"tool.cutter":           `cutter = "...", the name of a [[cutter]]`,
	"tool.holder":           `holder = "...", the name of a [[holder]]`,
	"tool.stick_out":        `stick_out = 45, from the holder's face to the foremost point`,

	"driver.name":        `name = "..."`,
	"driver.profile":     `profile = [[distance, diameter], ...], from the top of the head away`,
	"driver.free_height": `free_height = 150, above the head: from there on it is looked at`,

	"part.name":                     `name = "..."`,
	"part.place":                    `place = "...", the name of a place`,
	"operation.name":                `name = "..."`,
	"operation.tool":                `tool = 1, the number of a tool`,
	"operation.approach":            `approach = 5, the height above the stock from which on the tool is fed`,
	"operation.retract":             `retract = 20, the height above the stock to which it is drawn back`,
	"operation.face.axis":           `axis = [0, 0, 1], out of the part towards the spindle`,
	"operation.pocket.axis":         `axis = [0, 0, 1], out of the part towards the spindle`,
	"operation.contour.tip_control": `tip_control = true, if the control leads the tip along straight lines, or false`,
	"operation.touch.at":            `at = [[x, y, z], ...], points of the surface`,
	"operation.touch.axis":          `axis = [0, 0, 1], out of the part towards the spindle`,
	"operation.touch.toward":        `toward = [1, 0, 0], the way of the search`,
	"operation.touch.start":         `start = 10, the distance before the point at which the search begins`,
	"operation.touch.search":        `search = 5, how far beyond the point it may go on`,
	"may_be_cut.body":               `body = "vise/soft jaw"`,
	"may_be_cut.depth":              `depth = 2, how far it may be cut into`,
	"may_be_cut.reason":             `reason = "...", which the report prints`,
	"measured.axis":                 `axis = "A"`,
	"measured.position":             `position = { Y = ..., Z = ... }, where the spindle's axis was on the line of the rotary axis`,
	"probed.part":                   `part = "...", the name of a part`,
	"offsets.shift":                 `shift = 12.5, along Z`,

	"keyed.offset.number": `number = "G54"`,
	"keyed.offset.at":     `at = { X = -12.5, Y = 40, Z = -310 }, what the control adds to programmed positions`,
	"keyed.length.h":      `h = 1`,
	"keyed.length.length": `length = 120.5`,
	"keyed.radius.d":      `d = 1`,
	"keyed.radius.radius": `radius = 8`,
	"program.second_home": `second_home = { X = 0, Y = 250, Z = 0 }`,
	"program.codes":       `[program.codes] with "G271" = "tip control"`,

	"slots.name":              `name = "..."`,
	"slots.solid":             `solid = "...", the name of the solid that has the slots`,
	"slots.origin":            `origin = [0, 0, 0], on the middle line of slot 1, on the face`,
	"slots.count":             `count = 5`,
	"slots.width":             `width = "18 H8"`,
	"grid.retractable.fit":    `fit = "16 g6"`,
	"grid.retractable.height": `height = 12, how far a set pin stands out of the face`,
	"grid.retractable":        `retractable = { fit = "16 g6", height = 12 }`,
	"place.keyed":             `keyed = { slot = 2, along = 120, within = 0.5 }`,
	"place.keyed.slot":        `slot = 2`,
	"place.keyed.along":       `along = 120, the middle of its keys along the slot`,
	"place.keyed.within":      `within = 0.5, how far off that can be, either way`,
	"seat.pins":               `pins = [[-50, 0, 0], [50, 0, 0]], on the axes of its two pins`,
	"seat.play":               `fit = "16 g6" of its pins, in bores with a tolerance class, or play = 0.035, diametral, of each pin in its bushing`,
	"grid.name":               `name = "..."`,
	"grid.solid":              `solid = "...", the name of the solid that has the holes`,
	"grid.origin":             `origin = [0, 0, 0], the centre of hole A1 on the face`,
	"grid.columns":            `columns = 9`,
	"grid.rows":               `rows = 7`,
	"grid.pitch":              `pitch = 50 or [50, 40]`,
	"fastener.at":             `at = [0, 0, 0]`,
	"fastener.thread":         `thread = "M12"`,
	"counterweight":           `[counterweight] with on, radius, height, diameter and material`,
	"counterweight.on":        `on = "trunnion/faceplate", a grid on the face that turns`,
	"counterweight.radius":    `radius = 90, of its middle about the rotary axis`,
	"counterweight.height":    `height = 0, of its underside above the face`,
	"counterweight.diameter":  `diameter = 60, of a plain cylinder`,
	"counterweight.material":  `material = "steel"`,
	"ratings":                 `[ratings] with rotary = "C" and what it is rated for`,
	"grip.jaws":               `jaws = ["fixed jaw", "moving jaw"], the names of solids`,

	"place.name":         `name = "..."`,
	"place.component":    `component = "file.toml"`,
	"place.on":           `on = "..."; a place, or a grid or solid of the machine or of a place`,
	"place.set":          `set = { jaw = 60 }`,
	"place.gripped":      `gripped = { bite = 0 }`,
	"place.gripped.bite": `bite = 0`,
	"place.path.at":      `at = [0, -300, 80], from where it will stand, along the directions of its seat`,
	"lifting":            `[lifting] with by_hand = 20, in kg`,
}

// lists are the tables that are written in double brackets, one for each thing.
var lists = []string{
	"axis", "solid", "grid", "slots", "fastener", "grip", "demand.pair", "place", "place.path", "tool_change.zone",
	"holder", "cutter", "tool", "driver", "part", "may_be_cut", "measured", "probed",
	"keyed.offset", "keyed.length", "keyed.radius",
	"operation", "operation.hole", "operation.face", "operation.pocket", "operation.contour", "operation.touch",
}

var inArray = regexp.MustCompile(`\[[0-9]+\]`)

// plain returns a path without places in arrays.
func plain(path string) string { return inArray.ReplaceAllString(path, "") }
