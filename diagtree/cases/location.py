"""Where the case store lies: default place, what a user may name, and the folder made ready."""

from __future__ import annotations

from pathlib import Path

from diagtree.errors import StoreError

_SQLITE_URL = "sqlite:///"
_ELSEWHERE = "name another place with --store"

# File systems whose files other machines reach too; SQLite's write-ahead log needs memory shared by all writers.
# Source: SQLite, "Write-Ahead Logging", section 1 (https://sqlite.org/wal.html).
_SHARED = frozenset(
    {"9p", "afs", "ceph", "cifs", "fuse.glusterfs", "fuse.sshfs", "ncpfs", "nfs", "nfs4", "smb3", "smbfs"}
)


def default_store_path() -> Path:
    """Return the place of the case store in the user's data folder. Nothing is created."""
    from platformdirs import user_data_dir

    try:
        folder = Path(user_data_dir("diagtree", appauthor=False))
    except RuntimeError:
        folder = Path("~")
    if not folder.is_absolute():  # older platformdirs leave the `~` in
        raise StoreError(f"there is no home folder to keep cases in; {_ELSEWHERE}")
    return folder / "cases.db"


def store_path(named: str | Path | None) -> Path:
    """Return the absolute path of the store that the user named: a path, `sqlite:///path`, or None for the default.

    Raises StoreError for any other kind of URL.
    """
    if named is None:
        return default_store_path()
    text = str(named)
    if text.startswith(_SQLITE_URL):
        text = text.removeprefix(_SQLITE_URL)
    elif "://" in text or text.startswith(("sqlite:", "file:")):
        scheme = text.split(":", 1)[0]  # the rest may hold a password
        raise StoreError(f"case store `{scheme}:...`: only SQLite is served at present; write a path or sqlite:///PATH")
    if not text.strip() or "\0" in text or text == ":memory:":
        raise StoreError(f"case store {str(named)!r}: expected the path of a file that keeps the cases")
    try:
        return Path(text).expanduser().absolute()
    except RuntimeError as error:  # `~somebody` whom the system does not know
        raise StoreError(f"case store {text}: {error}; write the path in full") from error


def make_ready(path: Path) -> None:
    """Create the folder of `path` if need be. Raises StoreError where no store can be at this path."""
    try:
        # For the user alone: the store holds owners' names.
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise StoreError(f"case store {path}: its folder cannot be made ({_reason(error)}); {_ELSEWHERE}") from error
    refuse_what_is_no_file(path)


def refuse_what_is_no_file(path: Path) -> None:
    """Raise StoreError if something other than a file is at `path`; a device would swallow every answer."""
    try:
        if path.is_dir():
            raise StoreError(f"case store {path}: that is a folder; name a file in it, for example {path / 'cases.db'}")
        if path.exists() and not path.is_file():
            raise StoreError(f"case store {path}: that is not a file; {_ELSEWHERE}")
    except OSError as error:
        raise StoreError(f"case store {path}: cannot be looked at ({_reason(error)}); {_ELSEWHERE}") from error


def shared_file_system(path: Path) -> str | None:
    """Return the kind of the network file system that `path` is on, or None (none known)."""
    if str(path).startswith("\\\\"):
        return "network share"
    try:
        mounts = Path("/proc/self/mounts").read_text("utf-8", "replace")
        return shared_kind(str(path.resolve().parent), mounts)
    except OSError:  # no such list on this system: what SQLite tells of itself must do
        return None


def shared_kind(folder: str, mounts: str) -> str | None:
    """Return the kind of network file system that holds `folder`, by the lines of `/proc/self/mounts`, or None."""
    best, kind = "", None
    for line in mounts.splitlines():
        fields = line.split(" ")
        if len(fields) < 3:
            continue
        # fstab(5): a blank in a mount point is written \040
        point = fields[1].replace("\\040", " ").rstrip("/")
        if (folder + "/").startswith(point + "/") and len(point) >= len(best):
            best, kind = point, fields[2]
    return kind if kind in _SHARED else None


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
