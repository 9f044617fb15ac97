// What the page's scripts hand one another, for whoever checks and reads them; it holds no code, and no browser loads it.

/**
 * The texts of the page in one language; a text in which a count decides is an object of its forms.
 *
 * @typedef {object} Texts
 * @property {Record<string, string>} tables
 * @property {Record<string, string>} keys
 * @property {Record<string, string>} axes
 * @property {Record<string, string>} steps
 * @property {Record<string, string>} customerSteps
 */

/**
 * The design, with the keys of the design file. What is left out stands at its default; lengths are as typed.
 *
 * @typedef {object} Design
 * @property {string} [title]
 * @property {"in" | "cm"} [units]
 * @property {Row[]} row
 * @property {Fabric[]} [fabric]
 * @property {Border[]} [border]
 * @property {Lettering} [lettering]
 * @property {Panel} [panel]
 * @property {Binding} [binding]
 * @property {Backing} [backing]
 * @property {Hanging} [hanging]
 * @property {object} [yardage]
 * @property {{ mark_file?: string }} [publisher]
 * @property {Stated[]} [stated]
 * @property {Quilting[]} [quilting]
 * @property {Accepted[]} [accepted]
 */

/**
 * A finding that the maker means so: what was measured, in the row of these words or in the whole design, and why.
 *
 * @typedef {object} Accepted
 * @property {string} finding
 * @property {string} [words]
 * @property {string[]} [measured]
 * @property {string} [why]
 */

/**
 * @typedef {object} Row
 * @property {string} text
 * @property {string} [font]
 * @property {Axes} [axes]
 * @property {string} [cap_height]
 * @property {string} [width]
 * @property {string} [align]
 * @property {string} [direction]
 * @property {string} [fabric]
 * @property {string} [right]
 * @property {string} [up]
 * @property {number} [turn]
 * @property {Nudge[]} [nudge]
 * @property {{ letter: number }[]} [fussy]
 */

/** @typedef {Pick<Row, "nudge" | "right" | "up">} Moves */

/**
 * @typedef {object} Nudge
 * @property {number} letter
 * @property {string} [right]
 * @property {string} [up]
 * @property {number} [turn]
 */

/**
 * @typedef {object} Lettering
 * @property {string} [font]
 * @property {Axes} [axes]
 * @property {string} [cap_height]
 * @property {string} [align]
 * @property {string} [fabric]
 */

/**
 * @typedef {object} Fabric
 * @property {string} name
 * @property {string} [color]
 * @property {string} [photo]
 * @property {string} [photo_width]
 * @property {string} [usable_width]
 * @property {string} [sold_width]
 * @property {string} [turns]
 * @property {string} [have]
 * @property {string} [plan]
 * @property {string} [stitch]
 */

/**
 * @typedef {object} Stated
 * @property {string} part
 * @property {string} [fabric]
 */

/**
 * @typedef {object} Quilting
 * @property {string} kind
 */

/**
 * @typedef {object} Border
 * @property {"strip" | "squares" | "rectangles"} kind
 * @property {string[]} fabrics
 * @property {string} [width]
 * @property {string} [size]
 * @property {string} [first]
 * @property {string} [corners]
 * @property {string} [corner_fabric]
 * @property {string} [joins]
 */

/**
 * @typedef {object} Panel
 * @property {string} [width]
 * @property {string} [height]
 * @property {string} [margin]
 * @property {string} [fabric]
 */

/**
 * @typedef {object} Binding
 * @property {string} [fabric]
 */

/**
 * @typedef {object} Backing
 * @property {string} [fabric]
 */

/**
 * @typedef {object} Hanging
 * @property {string} [fabric]
 */

/** @typedef {Record<string, number>} Axes Settings of a variable font by name. */

/** @typedef {string | number | boolean | string[] | undefined} Entry What a field of a form sets; undefined for its default. */

/** @typedef {(string | number)[]} Path The keys that lead to a table of the design, indexes from 0. */

/**
 * How a change is kept: with the one before it under the same `mark`; `whole` draws the forms anew.
 *
 * @typedef {object} ChangeOptions
 * @property {string | null} [mark]
 * @property {boolean} [whole]
 * @property {boolean} [another]
 */

/**
 * For each row, stated number and accepted finding that was sent, its index on the page; `keys` of the rows, which they keep.
 *
 * @typedef {object} Places
 * @property {number[]} row
 * @property {number[]} stated
 * @property {number[]} accepted
 * @property {number[]} keys
 */

/**
 * A property in the model of the design file (JSON Schema).
 *
 * @typedef {object} Property
 * @property {string} [type]
 * @property {string} [description]
 * @property {any} [default]
 * @property {string} [$ref]
 * @property {{ $ref?: string }} [items]
 * @property {{ type?: string, $ref?: string }[]} [anyOf]
 * @property {string[]} [enum]
 * @property {string[]} [examples]
 */

/**
 * A table or a list of choices in the model of the design file.
 *
 * @typedef {object} Model
 * @property {Record<string, Property>} [properties]
 * @property {string[]} [enum]
 */

/**
 * A row of the design, or one letter of it, both from 1; no letter means the whole row.
 *
 * @typedef {object} Piece
 * @property {number} row
 * @property {number | null} letter
 */

/**
 * What on the quilt something is done with: the chosen row or letter, the panel, or a border by its number from 1.
 *
 * @typedef {{ part: "piece" } | { part: "panel" } | { part: "border", number: number }} Spot
 */

/** @typedef {[number, number]} Point Across and down. */

/** @typedef {[number, number, number, number]} Box Left, top, right, bottom. */

/**
 * The quilt as it can be seen: inches from the upper left corner of the finished quilt, y down; shapes about their own origin.
 *
 * @typedef {object} Drawing
 * @property {number} width
 * @property {number} height
 * @property {Picture} picture
 * @property {DrawnPanel} panel
 * @property {DrawnRow[]} rows
 * @property {Scene} scene
 * @property {FabricPhoto[]} photos
 * @property {[name: string, color: string][]} fabrics
 * @property {string} finished
 */

/**
 * The photo of a fabric, and how much of it the photo shows.
 *
 * @typedef {object} FabricPhoto
 * @property {string} fabric
 * @property {string} photo
 * @property {number} width
 * @property {number} height
 */

/**
 * @typedef {object} DrawnPanel
 * @property {number} x
 * @property {number} y
 * @property {number} width
 * @property {number} height
 * @property {number} margin
 * @property {string} color
 * @property {[number, number][][]} within closed lines at its margin
 */

/**
 * What to paint, in its order; `shapes` by the names that the items have for them.
 *
 * @typedef {object} Picture
 * @property {Record<string, string>} shapes
 * @property {Painted[]} items
 */

/**
 * One thing to paint: a shape turned by `turn` degrees clockwise, then moved; filled, then its line drawn.
 *
 * @typedef {object} Painted
 * @property {"patch" | "panel" | "outline" | "letter" | "shape" | "stitch" | "quilting" | "edge" | "thing" | "floor"} part
 * @property {string} shape
 * @property {number} x
 * @property {number} y
 * @property {number} [turn]
 * @property {string} [fabric]
 * @property {string} [fill]
 * @property {number} [row]
 * @property {number} [letter]
 * @property {number} [border]
 * @property {string} [stroke]
 * @property {number} [width]
 * @property {number} [opacity]
 */

/**
 * @typedef {object} DrawnRow
 * @property {number} number
 * @property {string} text
 * @property {string} fabric
 * @property {string} color
 * @property {string} cap_height
 * @property {number} baseline
 * @property {Point[]} line
 * @property {boolean} level
 * @property {Box} ink
 * @property {number} contrast
 * @property {"low" | "fair" | "good"} reads
 * @property {DrawnCut[]} cuts
 */

/**
 * @typedef {object} DrawnCut
 * @property {string} text
 * @property {number} letter
 * @property {number} y
 * @property {number} turn
 * @property {Box} ink
 */

/**
 * @typedef {object} Scene
 * @property {number} width
 * @property {number} height
 * @property {Point} quilt
 * @property {string[]} things
 * @property {Picture} picture
 */

/**
 * What is refused, of a move, a file or a font.
 *
 * A place in the design: the keys that lead to it, with numbers from 1; a letter of that row; or a file.
 *
 * @typedef {object} Where
 * @property {(string | number)[]} [path]
 * @property {number} [letter]
 * @property {string} [file]
 */

/**
 * @typedef {object} Problem
 * @property {string} what
 * @property {Where} where
 * @property {string} fix
 */

/** @typedef {Problem & { line?: number | null }} ReadProblem A problem, and its line where a text was read. */

/**
 * What was found, where in the design, and its place on the drawing.
 *
 * @typedef {object} Finding
 * @property {string} what
 * @property {Where} where
 * @property {string} fix
 * @property {Point | null} at
 * @property {boolean} stops
 * @property {Cure[]} cures
 * @property {Accepted | null} accept
 */

/**
 * Whether an entry of what is accepted still holds, and what is said of it.
 *
 * @typedef {object} Acceptance
 * @property {string} finding
 * @property {string} words
 * @property {string} why
 * @property {"holds" | "changed" | "gone"} standing
 * @property {string[]} said
 */

/**
 * A finding as the page shows it: `where` counts every row of the page, `sent` those with words alone.
 *
 * @typedef {Finding & { sent?: Where }} Shown
 */

/** @typedef {Shown & { drawn: Where }} Mark A finding as it is shown; `drawn` counts the rows of the drawing. */

/**
 * @typedef {object} Cure
 * @property {string} words
 * @property {Design} design
 */

/**
 * @typedef {object} Plan
 * @property {Drawing | null} drawing
 * @property {Finding[]} findings
 */

/**
 * What to buy, how many sheets to print, and the lines of quilting; `settled` once the search for a shorter layout is over.
 *
 * @typedef {object} Numbers
 * @property {boolean} settled
 * @property {Picture} quilting
 * @property {number} letters
 * @property {boolean} joined
 * @property {number} shapes
 * @property {number} sheets
 * @property {string} paper
 * @property {Bought[]} cloth
 * @property {Web} fusible
 * @property {string} trim
 * @property {string[]} stated
 * @property {Acceptance[]} accepted
 * @property {string} machine_time
 * @property {Shelf[]} shelves
 */

/**
 * @typedef {object} Bought
 * @property {string} name
 * @property {string} color
 * @property {string} amount
 * @property {string} precut
 * @property {string[]} precut_cuts
 */

/**
 * @typedef {object} Web
 * @property {string} kind
 * @property {string} amount
 * @property {string} width
 */

/**
 * @typedef {object} Shelf
 * @property {string} name
 * @property {string[]} items
 */

/**
 * @typedef {object} Font
 * @property {string} font
 * @property {string} name
 * @property {string} style
 * @property {string} kind
 * @property {boolean} own
 */

/**
 * A maker's words in one font; `box` is x, y, width, height.
 *
 * @typedef {object} Sample
 * @property {Axis[]} axes
 * @property {boolean} connected
 * @property {string[]} missing
 * @property {boolean | null} sewable
 * @property {string} path
 * @property {[number, number, number, number]} box
 */

/**
 * @typedef {object} Axis
 * @property {string} tag
 * @property {string} name
 * @property {number} least
 * @property {number} most
 * @property {number} set
 */

/**
 * @typedef {object} Hello
 * @property {string} tab
 * @property {Design} design
 * @property {string} name
 * @property {Design} blank
 */

/**
 * Designs, as JSON, that undo and redo lead to; the next one is the last.
 *
 * @typedef {object} Steps
 * @property {string[]} done
 * @property {string[]} undone
 */

/**
 * A quilt as the program keeps it; `by` is the page that wrote it.
 *
 * @typedef {object} KeptQuilt
 * @property {number} revision
 * @property {Design} design
 * @property {string[]} done
 * @property {string[]} undone
 * @property {string} by
 */

/**
 * A quilt in the list of those that are kept; `changed` is in milliseconds since 1970.
 *
 * @typedef {object} ListedQuilt
 * @property {string} quilt
 * @property {string} title
 * @property {number} changed
 * @property {Problem[]} problems
 */

/**
 * @typedef {object} Made
 * @property {string} made
 * @property {string} name
 * @property {MadeFile[]} files
 */

/**
 * @typedef {object} MadeFile
 * @property {string} name
 * @property {number} size
 * @property {number} pages
 */

/**
 * A border that can be added: what it looks like, what it is called, what adding it does besides, and the tables of the
 * design that it changes.
 *
 * @typedef {object} BorderChoice
 * @property {string} look
 * @property {string} name
 * @property {string} size
 * @property {string[]} does
 * @property {string} picture
 * @property {{ border: Border[], panel: Panel, fabric: Fabric[] }} changes
 */

/**
 * Which column of a list fills what, counted from 0: rows of words, and the title.
 *
 * @typedef {{ rows: Record<string, number>, title: number | null }} Fills
 */

/**
 * A list as it was read: its columns, its first rows, what is wrong by line, and which columns the design names in braces.
 *
 * @typedef {object} NamesRead
 * @property {boolean} headed
 * @property {string[]} columns
 * @property {number} count
 * @property {{ line: number, cells: string[] }[]} rows
 * @property {LineProblem[]} problems
 * @property {Fills} fills
 * @property {string[]} placed
 */

/** @typedef {Problem & { line: number, name?: string }} LineProblem What is wrong at a line of a list, and whose line it is. */

/**
 * Every answer to a question as JSON, by its address.
 *
 * @typedef {{
 *   hello: Hello,
 *   plan: Plan,
 *   move: { design: Design },
 *   follow: { design: Design },
 *   borders: { borders: BorderChoice[] },
 *   names: NamesRead,
 *   read: { design: Design },
 *   write: { text: string, name: string },
 *   sample: Sample,
 *   fonts: { fonts: Font[] },
 *   quilts: { folder: string, quilts: ListedQuilt[] },
 *   removed: { quilts: ListedQuilt[] },
 *   samples: { samples: { sample: string, title: string }[] },
 *   "openapi.json": { components: { schemas: Record<string, Model> } },
 * }} Answers
 */

/**
 * What comes while numbers are counted and a pattern is made, by the name of the event.
 *
 * @typedef {["numbers", Numbers & { findings: Finding[] }] | ["findings", { findings: Finding[] }]
 *   | ["refused", { findings: Finding[] }] | ["step", { step: string }] | ["done", Made] | ["failed", { findings?: undefined }]} Told
 */

/**
 * What comes while a pattern is made for each name of a list.
 *
 * @typedef {["begun", { made: string, name: string, count: number }] | ["name", { number: number, line: number, name: string }]
 *   | ["step", { step: string }] | ["madeName" | "refusedName", { line: number, name: string, problems: Problem[] }]
 *   | ["done", { made: string, count: number }]} ToldOfNames
 */

export {};
