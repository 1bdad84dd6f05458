"""Knowledge for a walk, there at once: what was found sound before need not be read whole again.

That a folder is sound on a car, and that its catalogue can be read piece by piece, is kept in the user's cache folder
under a digest of all texts and of this program (as what `check` finds is). Without it the folder is read whole.
"""

from __future__ import annotations

from pathlib import Path

from diagtree.knowledge.catalogue_pieces import alike
from diagtree.knowledge.files import read_texts, shipped_folder, shown
from diagtree.knowledge.library import Library, read_library, read_sound
from diagtree.terminal import check_cache

FOLDER = "walk"


def library_for(trees: str | None, vehicle: str | None) -> Library:
    """Return the knowledge in a folder (None: the one that ships), to be walked on `vehicle` (None: the house's)."""
    folder = Path(trees).expanduser() if trees else shipped_folder()
    texts, name = read_texts(folder), f"{shown(folder)}/"
    quick = read_sound(texts, name)
    house = quick.workshop.vehicle if quick.workshop else None
    car = vehicle or house
    if car is None or car not in quick.profiles:  # chosen later, or a mistake to be told
        return read_library(texts, name)
    key = check_cache.key_of(texts, name, (FOLDER, car))
    known = check_cache.cache_folder().parent / FOLDER
    if check_cache.kept(key, known) is not None:
        return quick
    library = read_library(texts, name)
    if library.sound_on(car) and alike(quick.catalogue(car), library.catalogue(car)):
        check_cache.keep(key, (), known)
    return library
