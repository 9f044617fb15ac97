"""The page: a maker's own machine does the whole job behind it, and the same rooms do the work.

The server holds no design. It keeps the font files and the finished folders of each open page, in memory or in a folder
of its own that goes with it; everything else lives in the browser.
"""

from applique.web.serving import serve

__all__ = ["serve"]
