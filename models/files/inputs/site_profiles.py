"""Curing rules: those of the site's own ``profiles`` folder, then the built-in ones."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from models.errors import InputError, Place
from models.files.formats.open_file import read_text
from models.files.reading.problems import ProblemCollector
from models.profiles.loader import builtin_profile, load_profile, profile_ids
from models.records import Profile

FOLDER_NAME = "profiles"


@dataclass(frozen=True)
class SiteProfiles:
    """The site's own rules over the built-in ones.

    ``unread`` are the names of files that have been refused, so that the places where
    they are named are not refused as well.
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


def read_own_profiles(folder: Path, problems: ProblemCollector) -> SiteProfiles:
    """Read every rule of ``profiles/*.toml``; the id is that inside the file."""
    own: dict[str, Profile] = {}
    unread = []
    for path in sorted((folder / FOLDER_NAME).glob("*.toml")):
        name = f"{FOLDER_NAME}/{path.name}"
        profile = _read(path, name, problems)
        if profile is None:
            unread.append(path.stem)
        elif profile.id in own:
            problems.add(Place(name), "id", f"duplicate id '{profile.id}'")
        else:
            own[profile.id] = profile
    return SiteProfiles(own, tuple(unread))


def _read(path: Path, name: str, problems: ProblemCollector) -> Profile | None:
    text = read_text(path, problems, name)
    if text is None:
        return None
    try:
        return load_profile(text, name)
    except InputError as error:
        problems.keep(*error.problems)
    except (ValueError, RecursionError):
        problems.add(Place(name), "", "numbers too long or nested too deeply")
    return None
