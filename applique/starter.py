"""What a maker starts from: the commented design file of `applique new`, every table with each key at its default, and
the design of a new page. Where people sew in centimeters, both are in centimeters and for A4.
"""

from __future__ import annotations

from collections.abc import Mapping
from string import Template
from typing import Any, Final

from applique.language import Speech

__all__ = ["new_design", "starter"]

_IN_INCHES: Final = {
    "settings": """\
# language = "en"            # of the printed sheets; "en-GB" is British English
# units = "in"               # or "cm": what lengths are printed in""",
    "width": "36in",
    "height": "48in",
    "paper": '''\
# [paper]
# size = "letter"            # or "A4", "legal", "tabloid", "A3"''',
}
_IN_CENTIMETERS: Final = {
    "settings": """\
language = "$tag"           # of the printed sheets; "en" for American English
units = "cm"                 # or "in": what lengths are printed in""",
    "width": "90cm",
    "height": "120cm",
    "paper": '''\
[paper]
size = "A4"                  # or "letter", "legal", "tabloid", "A3"''',
}
_FILE: Final = """\
# A quilt of words. Lengths are written as you would say them: "7in", "7 1/4in", "18.5cm", "1/2yd".
# A line that starts with # is a note; take the # away to use the setting behind it.

title = "Row Steady Home"
designer = ""
$settings

[panel]
# the background the letters are sewn to; finished sizes
width = "$width"
height = "$height"
# seam_allowance = "1/4in"
# margin = "1 1/2in"         # least distance from the letters to the finished edge
# fabric = "Fog"             # one of the fabrics below

[lettering]
# what every row takes unless it says otherwise
font = "Fredoka"             # `applique fonts` lists them; or the path of a font file of your own
cap_height = "fit"           # the height of the H: a length, or "fit" for the largest that fits
# axes = { weight = 650 }    # settings of a variable font
# letter_spacing = "0in"     # added between all letters
# least_gap = "1/4in"        # no two letters come nearer than this
# spacing = "font"           # or "even": the white between letters evened out by area
# row_gap = "1in"            # least white between rows
# rows = "equal white"       # or "even baselines"
# row_spacing = "9in"       # a fixed distance from baseline to baseline
# align = "center"           # or "left", "right", "spread"
# fabric = "Navy"
# alternates = false         # letter variants of fonts that have them
# outline = "0in"            # how far a shape of another fabric reaches out behind the letters

[[row]]
text = "ROW"
# every row can have its own font, axes, cap_height, letter_spacing, least_gap, spacing, align, fabric,
# outline, stitch, stitch_width, stitch_length and thread
# baseline = "12in"          # down from the finished top edge; then every row needs one
# right = "0in"              # the whole row moved by hand
# up = "0in"
# turn = 0                   # degrees to the left; negative turns right
# nudge = [{ letter = 2, right = "1/8in", up = "0in", turn = 5 }]   # one letter moved and turned by hand

[[row]]
text = "STEADY"

[[row]]
text = "HOME"

# [[fabric]]
# name = "Navy"
# color = "#1f3a5f"
# usable_width = "40in"      # without the selvages
# turns = "half"             # or "upright" for a one-way print, "quarter" for any
# have = "2 fat quarters"    # what's in your stash
# stitch = "blanket"         # around every letter of it

# [outline]                  # the layer behind letters that have an outline
# fabric = "Navy"
# thread = "#1f3a5f"         # that of its fabric if left out
# around = "letters"         # or "words": one shape behind each word
# corners = "round"          # or "mitered"
# miter_limit = 2.0          # longer mitered corners are cut off
# counters = "open where they fit"   # or "closed"

# [sewing]
# method = "raw edge"        # or "machine cut", "turned edge"
# turn_under = "3/16in"      # of a turned edge
# weave = "firm"             # the panel's cloth; or "loose", "slippery", "stretchy"
# viewing_distance = "20ft"  # from how far the words are read
# the least that you will cut and sew; by method and stitch if left out
# least_stroke = "1/4in"
# least_counter = "1/4in"
# least_slot = "1/8in"
# least_clear = "1/16in"     # between letters, and between rows
# least_seam = "1/2in"       # from a letter to the panel's seam
# least_point = 20           # degrees

# [stitching]
# stitch = "satin"           # or "straight", "zigzag", "blanket"; chosen if left out
# width = "3mm"
# length = "0.4mm"
# thread = "#1f3a5f"         # that of the letters if left out
# thickness = "1mm"          # of all layers under the needle
# waste_percent = 15
# spool = "500yd"
# bobbin = "60yd"
# stabilizer_width = "20in"  # of the roll
# pace = 160                 # stitches a minute while guiding; by the stitch if left out
# throat = "8in"             # room in the machine's throat
# when = "before the borders"   # or "after the borders", "with the quilting"

# [[quilting]]               # as many as you like
# kind = "echo"              # or "lines", "crosshatch", "edge to edge", "in the ditch"
# spacing = "1/2in"          # from line to line, and from the letters to the first echo
# lines = 3                  # echo lines
# angle = 45.0               # of straight lines
# letters = "miss"           # or "cross"
# row_height = "10in"        # of rows from edge to edge
# overlap = "1/2in"
# repeat_width = "12in"      # of an edge-to-edge design of your own
# repeat_thread = "4yd"      # needle thread in one repeat
# stitch_length = "2.5mm"

# [[border]]                 # as many as you like, from the panel outward
# kind = "strip"             # or "squares", "rectangles"
# fabrics = ["Navy"]         # squares and rectangles take several, in turn
# width = "2in"              # of a strip; depth of rectangles
# size = "4in"               # side of a square; length of a rectangle
# first = "sides"            # or "top and bottom": what is sewn on first
# corners = "butted"         # or "cornerstones", "mitered"
# corner_fabric = "Navy"
# joins = "diagonal"         # or "straight"

# [binding]
# fabric = "Navy"
# width = "2 1/2in"
# allowance = "10in"         # beyond the perimeter, for corners and the end
# grain = "straight"         # or "bias"

# [backing]
# kind = "cloth"             # or "wide", "leftovers"
# fabric = "Navy"
# overage = "4in"            # larger than the quilt on every side
# wide_width = "106in"

# [batting]
# overage = "2in"

# [hanging]
# sleeve = false
# fabric = "Navy"

# [label]
# maker = "you"
# date = "Spring"
# place = "where"
# care = ["Wash cold and gently, dry flat.", "Iron the back only."]

# [cloth]
# shrinkage_percent = 0      # if you wash the cloth first
# cutting_allowance = "0in"  # for squaring up, once for each fabric

# [publisher]                # if you publish the pattern
# name = "your name"
# mark = "YN"
# contact = "where to reach you"
# license = "what others may do with it"
# skill = "confident beginner"

# [fusible]
# width = "17in"
# rough_cut = "1/4in"        # left around each letter until it is fused
# spacing = "1/8in"          # between rough-cut letters
# extra_percent = 25         # bought beyond what the layout uses
# and ring = "3/8in" to cut the middle of the web away and leave a ring inside the edge

# [cutting]                  # a cutting machine
# mat_width = "12in"         # with it, whole mats are laid out
# mat_height = "12in"
# mat_margin = "1/4in"
# mat_spacing = "1/8in"
# dxf = false                # DXF files beside the SVG ones

$paper
# margin = "3/8in"
# overlap = "3/4in"          # what the pages of a large letter share
# copies = "one"             # or "each": a template for every letter to be cut
# full_size_nest = false     # the nested letters at full size, mirrored, to trace under the web
# full_size_guide = false    # the whole panel on pages to lay under light cloth

# [print]
# what the 6 in rules of a printed sheet measured, if your printer is a little off
# scale_x = "6in"            # the rule along the bottom
# scale_y = "6in"            # the rule up the side
"""


def starter(speech: Speech) -> str:
    """The text of a new design file, for somebody who speaks so."""
    chosen = _IN_CENTIMETERS if speech.is_metric else _IN_INCHES
    settings = Template(chosen["settings"]).substitute(tag=speech.tag)
    return Template(_FILE).substitute({**chosen, "settings": settings})


def new_design(speech: Speech) -> Mapping[str, Any]:
    """What a design has before there are words, for somebody who speaks so, as plain data."""
    if not speech.is_metric:
        return {}
    return {"language": speech.tag, "units": "cm", "paper": {"size": "A4"}}
