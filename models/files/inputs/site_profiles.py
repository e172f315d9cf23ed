"""Curing rules: those of the site's own ``profiles`` folder, then the built-in ones."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from models.errors import InputError
from models.files.formats.open_file import read_text
from models.files.reading.gather import Gatherer, Place
from models.profiles.loader import builtin_profile, load_profile, profile_ids
from models.records import Profile

FOLDER_NAME = "profiles"


@dataclass(frozen=True)
class SiteProfiles:
    """The site's own rules over the built-in ones.

    ``unread`` are the names of files that have been complained about, so that the
    places where they are named need not be.
    """

    own: Mapping[str, Profile]
    unread: tuple[str, ...] = ()

    def known_ids(self) -> tuple[str, ...]:
        """Ids a site may name, its own first."""
        own = (*self.own, *self.unread)
        return (*own, *(name for name in profile_ids() if name not in own))

    def get(self, profile_id: str) -> Profile:
        """Return the site's own rule of an id, or the built-in one."""
        return self.own.get(profile_id) or builtin_profile(profile_id)


def read_own_profiles(folder: Path, gather: Gatherer) -> SiteProfiles:
    """Read every rule of ``profiles/*.toml``; the id is that inside the file."""
    own: dict[str, Profile] = {}
    unread = []
    for path in sorted((folder / FOLDER_NAME).glob("*.toml")):
        name = f"{FOLDER_NAME}/{path.name}"
        profile = _read(path, name, gather)
        if profile is None:
            unread.append(path.stem)
        elif profile.id in own:
            wanted = "each rule in one file"
            gather.add(Place(name), "id", f"'{profile.id}' again", wanted)
        else:
            own[profile.id] = profile
    return SiteProfiles(own, tuple(unread))


def _read(path: Path, name: str, gather: Gatherer) -> Profile | None:
    text = read_text(path, gather, name)
    if text is None:
        return None
    try:
        return load_profile(text, name)
    except InputError as error:
        gather.take(name, error)
    except (ValueError, RecursionError):
        gather.add(Place(name), "", "numbers or brackets without end", "TOML")
    return None
