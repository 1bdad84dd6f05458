"""Write a tree as a page with pictures, to be reviewed on paper."""

from __future__ import annotations

from pathlib import Path

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.setting import Setting


@click.command("paper")
@click.argument("tree", metavar="TREE")
@click.option("--out", metavar="FOLDER", required=True, type=click.Path(path_type=Path, file_okay=False),
              help="Write the files to FOLDER; it is made where it is not there.")
@click.option("--overwrite", is_flag=True, help="Files of these names are replaced.")
@click.pass_obj
def paper(setting: Setting, tree: str, out: Path, overwrite: bool) -> int:  # fmt: skip
    """Write TREE as a senior reviews it: causes, tests, per cents and sources on a page, the steps in a picture.

    FOLDER gets TREE.md (Markdown), TREE.svg and TREE-2.svg ... (A3 sheets that the page shows), and TREE.graphml, the
    steps and branches for programs that read graphs.
    """
    from diagtree.errors import WrongUse
    from diagtree.report.tree_graphml import graphml
    from diagtree.report.tree_paper import papers
    from diagtree.terminal.write_whole import demand_free, write_whole

    library = setting.library()
    known, catalogue = library.require(tree, None)
    files = [*papers(library, tree), (f"{tree}.graphml", graphml(known, catalogue))]
    try:
        out.mkdir(exist_ok=True)
    except OSError as error:
        raise WrongUse(f"the folder `{out}` cannot be made: {error.strerror}") from error
    for name, _ in files:
        demand_free(out / name, overwrite=overwrite)
    for name, text in files:
        write_whole(out / name, text, overwrite=overwrite)
        setting.say(str(out / name))
    return FINE


COMMAND = paper
