"""All files' texts to one Library: trees, catalogue, profiles and the house, or what is wrong with them. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from diagtree.errors import KnowledgeError, WrongUse
from diagtree.knowledge.catalogue_pieces import Piece, Piecewise, cut
from diagtree.knowledge.digest import digest_of
from diagtree.knowledge.fields import Fields, Findings
from diagtree.knowledge.house import House, Workshop
from diagtree.knowledge.on_cars import OnCars
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.read_house import SECTIONS, Profile, read_profile, read_workshop
from diagtree.knowledge.tree_files import TreeFiles, tell_empty
from diagtree.knowledge.words import Catalogue, Tree, Vehicle
from diagtree.knowledge.yaml_text import Entry, Node, compose
from diagtree.knowledge.yaml_text import Mapping as MappingNode
from diagtree.physics.nearest import did_you_mean

WORKSHOP = "workshop.yaml"
CATALOGUE, VEHICLES = "catalogue/", "vehicles/"


@dataclass
class Library:
    """The knowledge of one folder. Build it with `read_library`.

    texts : relative file name to text. folder : how the files are named in messages. trees : each read when it is
    first asked for. _shared : what is wrong in the other files. _broken : those of them that could not be read whole.
    """

    texts: Mapping[str, str]
    folder: str
    trees: TreeFiles
    profiles: Mapping[str, Profile]
    workshop: Workshop | None
    _shared: tuple[Finding, ...]
    _broken: frozenset[str]
    _on_cars: OnCars
    _merged: dict[str | None, tuple[Catalogue, tuple[Finding, ...]]] = field(default_factory=dict, repr=False)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is wrong apart from the catalogue as it is on a car (`catalogue_findings`). Reads all trees."""
        return (*self._shared, *self.trees.all_findings())

    @cached_property
    def unread(self) -> frozenset[str]:
        """The files, by relative name, that are no YAML, or of which a whole section was not understood.

        Reads all trees.
        What they define is not here, so nobody can tell what is missing or unused.
        """
        return self._broken | self.trees.unread

    @property
    def digest(self) -> str:
        """SHA-256 over file names and texts: the knowledge a case was begun with."""
        return digest_of(self.texts)

    @property
    def house(self) -> House:
        """The workshop's costs; nothing costs anything where there is no workshop file."""
        if self.workshop is None:
            return House()
        return House(self.workshop.rate, self.workshop.referral, self.workshop.comeback)

    def catalogue(self, vehicle: str | None) -> Catalogue:
        """Return the catalogue as it is on `vehicle` (None: as written). Raises WrongUse for an unknown vehicle."""
        return self._on(vehicle)[0]

    def catalogue_findings(self, vehicle: str | None) -> tuple[Finding, ...]:
        """Return what is wrong with the catalogue, merged for `vehicle`, and with the trees' links to it."""
        found = list(self._on(vehicle)[1])
        for tree in self.trees.values():
            found.extend(self._links(tree, vehicle))
        return tuple(found)

    def vehicle(self, vehicle: str) -> Vehicle:
        """Return the profile's facts. Raises WrongUse for an unknown vehicle."""
        if vehicle not in self.profiles:
            known = ", ".join(self.profiles) or "none"
            raise WrongUse(
                f"there is no vehicle profile `{vehicle}`{did_you_mean(vehicle, self.profiles)}; profiles here: {known}"
            )
        return self.profiles[vehicle].vehicle

    def tree(self, tree: str) -> Tree:
        """Return a tree. Raises WrongUse where there is none of that name."""
        if tree not in self.trees:
            known = ", ".join(sorted(self.trees)) or "none"
            raise WrongUse(
                f"there is no tree `{tree}`{did_you_mean(tree, self.trees)}; trees in {self.folder}: {known}"
            )
        return self.trees[tree]

    def require(self, tree: str, vehicle: str | None) -> tuple[Tree, Catalogue]:
        """Return a tree and the catalogue for a car, fit for use.

        Raises KnowledgeError with every error in a file this job rests on (the tree's, the catalogue's, the
        vehicle's, the workshop's); mistakes in other trees do not stop it.
        """
        own = f"{tree}.yaml"
        if own not in self.texts:
            self.tree(tree)
        profile = self._file_of_vehicle(vehicle)
        found = [*self._shared, *self.trees.findings(tree), *self._on(vehicle)[1]]
        if tree in self.trees:
            found += self._links(self.trees[tree], vehicle)
        rests_on = [
            finding
            for finding in found
            if finding.level is Level.ERROR and self._concerns(finding.place.file, own, profile)
        ]
        if rests_on:
            raise KnowledgeError(f"the knowledge for `{tree}` has {len(rests_on)} mistake(s)", tuple(rests_on))
        return self.tree(tree), self.catalogue(vehicle)

    def sound_on(self, vehicle: str | None) -> bool:
        """Return whether nothing is wrong outside the trees, on this car: whether walks rest on sound ground."""
        found = (*self._shared, *self._on(vehicle)[1])
        return not any(finding.level is Level.ERROR for finding in found)

    def all_findings(self) -> tuple[Finding, ...]:
        """Return every finding, on the catalogue as written and on every vehicle, each once, by place."""
        found = dict.fromkeys(self.findings)
        for vehicle in (None, *self.profiles):
            found.update(dict.fromkeys(self.catalogue_findings(vehicle)))
        return tuple(sorted(found, key=lambda finding: (finding.place, finding.rule, finding.message)))

    def _concerns(self, file: str, own: str, profile: str | None) -> bool:
        name = file.removeprefix(self.folder)
        return name in (own, WORKSHOP, profile) or name.startswith(CATALOGUE)

    def _file_of_vehicle(self, vehicle: str | None) -> str | None:
        if vehicle is None:
            return None
        if vehicle in self.profiles:
            return self.profiles[vehicle].vehicle.at.file.removeprefix(self.folder)
        guess = f"{VEHICLES}{vehicle}.yaml"
        if guess not in self.texts:
            self.vehicle(vehicle)
        return guess

    def _on(self, vehicle: str | None) -> tuple[Catalogue, tuple[Finding, ...]]:
        if vehicle not in self._merged:
            profile = None if vehicle is None else self.profiles.get(vehicle)
            facts, differs = (profile.vehicle, profile.differs) if profile else (None, None)
            self._merged[vehicle] = self._on_cars.catalogue(facts, differs)
        return self._merged[vehicle]

    def _links(self, tree: Tree, vehicle: str | None) -> list[Finding]:
        return self._on_cars.tree_links(tree, self._on(vehicle)[0], self.trees.named)


def read_library(texts: Mapping[str, str], folder: str = "") -> Library:
    """Return the knowledge in `texts` (relative file name to text). Never raises: mistakes become findings.

    folder : put before file names in places, so that a terminal can open them (`trees/`).
    """
    return _read(texts, folder, piecewise=False)


def read_sound(texts: Mapping[str, str], folder: str = "") -> Library:
    """Return the knowledge in `texts`, the catalogue piece by piece: quickly, and only for what is known to be sound.

    What is wrong in catalogue files is not told. A vehicle on which the catalogue would be otherwise than if it was
    read whole (`catalogue_pieces.alike`) must not be used.
    """
    return _read(texts, folder, piecewise=True)


def _read(texts: Mapping[str, str], folder: str, *, piecewise: bool) -> Library:
    findings = Findings()
    profiles: dict[str, Profile] = {}
    workshop = None
    sections: dict[str, dict[str, Entry]] = {section: {} for section in SECTIONS}
    pieces: dict[str, dict[str, Piece]] = {}
    unread: set[str] = set()
    trees = {name: text for name, text in texts.items() if "/" not in name and name != WORKSHOP}
    for name in sorted(texts.keys() - trees.keys()):
        if piecewise and name.startswith(CATALOGUE):
            cut(texts[name], folder + name, pieces)
            continue
        node, wrong = compose(texts[name], folder + name)
        findings.found.extend(wrong)
        if node is None:
            if wrong:
                unread.add(name)
            else:
                tell_empty(folder + name, findings)
        elif name == WORKSHOP:
            workshop = read_workshop(node, findings)
        elif name.startswith(CATALOGUE):
            before = len(findings.found)
            _gather(node, sections, findings)
            if any(one.rule in ("unknown-key", "wrong-type") for one in findings.found[before:]):
                unread.add(name)  # a whole section of it is not here
        elif name.startswith(VEHICLES):
            _profile(node, profiles, findings)
    at = Place(folder + CATALOGUE)
    gathered = MappingNode(at, {key: Entry(at, MappingNode(at, entries)) for key, entries in sections.items()})
    if texts and not any(name.startswith(CATALOGUE) and text.strip() for name, text in texts.items()):
        _no_catalogue(folder, findings)
        unread.add(CATALOGUE)
    complete = not any(name.startswith(CATALOGUE) for name in unread)
    if workshop is not None and not any(name.startswith(VEHICLES) for name in unread):
        _house_vehicle(workshop, profiles, findings)
    return Library(
        texts, folder, TreeFiles(trees, folder), profiles, workshop, tuple(findings.found), frozenset(unread),
        Piecewise(pieces, gathered) if piecewise else OnCars(gathered, complete),
    )  # fmt: skip


def _no_catalogue(folder: str, findings: Findings) -> None:
    sought = f"`{folder}{CATALOGUE}*.yaml`"
    findings.error(
        "catalogue-missing",
        Place(folder + CATALOGUE),
        f"there is no catalogue: {sought} was looked for; write tests and causes there, or name the folder that holds "
        "`catalogue` beside its trees",
    )


def _gather(node: Node, sections: dict[str, dict[str, Entry]], findings: Findings) -> None:
    fields = Fields(node, "a catalogue file", findings)
    for section, found in sections.items():
        for name, entry in fields.children(section):
            if name in found:
                findings.error(
                    "duplicate-key",
                    entry.at,
                    f"`{name}` is defined a second time; first at {found[name].at}: keep one",
                )
            else:
                found[name] = entry
    fields.done()


def _profile(node: Node, profiles: dict[str, Profile], findings: Findings) -> None:
    profile = read_profile(node, findings)
    name = profile.vehicle.id
    if name in profiles:
        findings.error(
            "duplicate-key", node.at, f"vehicle `{name}` is defined a second time; first at {profiles[name].vehicle.at}"
        )
    elif name:
        profiles[name] = profile


def _house_vehicle(workshop: Workshop, profiles: Mapping[str, Profile], findings: Findings) -> None:
    if workshop.vehicle and workshop.vehicle not in profiles:
        hint = did_you_mean(workshop.vehicle, profiles)
        findings.error("unknown-vehicle", workshop.at, f"`vehicle: {workshop.vehicle}`: no such profile{hint}")
