"""Where nests are kept."""

from __future__ import annotations

import sys
from pathlib import Path

import platformdirs
import pytest

from applique.store import FolderStore, cache_folder


@pytest.mark.skipif(sys.platform != "linux", reason="the specification is that of Linux desktops")
def test_nests_lie_where_the_system_keeps_caches(monkeypatch: pytest.MonkeyPatch) -> None:
    """XDG Base Directory Specification 0.8 (from memory): $XDG_CACHE_HOME, or ~/.cache; a relative path is ignored."""
    monkeypatch.setenv("HOME", "/home/maker")
    monkeypatch.setenv("XDG_CACHE_HOME", "/elsewhere")
    assert cache_folder() == Path("/elsewhere/applique/nests")
    for unusable in ("", "not/whole"):
        monkeypatch.setenv("XDG_CACHE_HOME", unusable)
        assert cache_folder() == Path("/home/maker/.cache/applique/nests")


@pytest.mark.parametrize("answer", [RuntimeError("nobody's home"), Path("~/.cache/applique")])
def test_without_a_home_nothing_is_kept(
    answer: object, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Versions of the library differ in what they answer then; a folder named ~ must not come of it."""

    def asked(*args: object, **more: object) -> object:
        if isinstance(answer, RuntimeError):
            raise answer
        return answer

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(platformdirs, "user_cache_path", asked)
    assert cache_folder() is None
    store = FolderStore(None)
    store.put("key", "text")
    assert store.get("key") is None
    assert list(tmp_path.iterdir()) == []
