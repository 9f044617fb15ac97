"""What is said, as data, and how a language says it: messages, measures, catalogues. It knows nothing of quilts."""

from applique.language.messages import (
    NOTHING,
    Field,
    Listing,
    Measure,
    Message,
    PageOf,
    Unit,
    any_of,
    listed,
    message,
    messages,
)
from applique.language.speech import Speech, american, catalogues, nearest_speech, speech_in

__all__ = [
    "NOTHING",
    "Field",
    "Listing",
    "Measure",
    "Message",
    "PageOf",
    "Speech",
    "Unit",
    "american",
    "any_of",
    "catalogues",
    "listed",
    "message",
    "messages",
    "nearest_speech",
    "speech_in",
]
