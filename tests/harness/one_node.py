"""Changes of one node of a module: what a slip of the hand would make of it.

Comparisons turn or take in their bound, sums and products swap, conditions hold always
or never, numbers move by a step, a branch forgets to return. Words, annotations and
decorators stay, because no test could or should tell them apart.
"""

import ast
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass

#: A whole number moves by one, any other by so much of itself.
STEP_FRACTION = 0.05

COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
COUNTED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
_PAIRS = (
    ("min", "max"),
    ("minimum", "maximum"),
    ("any", "all"),
    ("floor", "ceil"),
    ("argmin", "argmax"),
    ("logical_and", "logical_or"),
)
NAMED = dict(_PAIRS) | {right: left for left, right in _PAIRS}

_UNTOUCHED = ("annotation", "returns", "decorator_list", "type_params", "ctx")


@dataclass(frozen=True)
class Mutant:
    """A module with one node changed; ``line`` is the text of the old line.

    ``column`` counts from the first sign of that text.
    """

    number: int
    within: str
    line: str
    column: int
    was: str
    now: str
    source: str


def mutants(source: str) -> list[Mutant]:
    """Every change of one node, in order of lines, each module text once."""
    tree = ast.parse(source)
    lines = source.splitlines()
    found: dict[str, Mutant] = {}
    for place, within, statement in _places(tree, "", 1):
        old = place.get()
        for new in _changes(place, old):
            was, now = ast.unparse(old), ast.unparse(new)
            place.put(new)
            text = ast.unparse(tree)
            place.put(old)
            # Inside words in braces the parser counts lines anew before Python 3.12.
            number = max(getattr(old, "lineno", statement), statement)
            whole = lines[number - 1]
            line = whole.strip()
            column = getattr(old, "col_offset", 0) - whole.find(line)
            found.setdefault(text, Mutant(number, within, line, column, was, now, text))
    return sorted(found.values(), key=lambda mutant: mutant.number)


@dataclass(frozen=True)
class _Place:
    """Where a node hangs in its parent."""

    parent: ast.AST
    field: str
    index: int | None

    def get(self) -> ast.AST:
        held = getattr(self.parent, self.field)
        node: ast.AST = held if self.index is None else held[self.index]
        return node

    def put(self, node: ast.AST) -> None:
        if self.index is None:
            setattr(self.parent, self.field, node)
        else:
            getattr(self.parent, self.field)[self.index] = node


def _places(
    node: ast.AST, within: str, statement: int
) -> Iterator[tuple[_Place, str, int]]:
    """Places of all nodes, with the function and the line of the statement."""
    for field, held in ast.iter_fields(node):
        if field in _UNTOUCHED:
            continue
        for index, child in (
            enumerate(held) if isinstance(held, list) else [(None, held)]
        ):
            if not isinstance(child, ast.AST):
                continue
            inside, line = within, statement
            if isinstance(child, ast.stmt):
                line = child.lineno
            if isinstance(child, ast.FunctionDef | ast.ClassDef):
                inside = f"{within}.{child.name}".lstrip(".")
            yield _Place(node, field, index), inside, line
            yield from _places(child, inside, line)


def _changes(place: _Place, node: ast.AST) -> Iterator[ast.AST]:
    parent = place.parent
    match node:
        case ast.Compare(ops=ops):
            for index, op in enumerate(ops):
                for other in COMPARED[type(op)]:
                    new = deepcopy(node)
                    new.ops[index] = other()
                    yield new
        case ast.BinOp(left, op, right) if type(op) in COUNTED:
            yield ast.BinOp(left, COUNTED[type(op)](), right)
        case ast.AugAssign(target, op, value) if type(op) in COUNTED:
            yield ast.AugAssign(target, COUNTED[type(op)](), value)
        case ast.BoolOp(op, values):
            yield ast.BoolOp(ast.Or() if isinstance(op, ast.And) else ast.And(), values)
        case ast.UnaryOp(ast.Not() | ast.USub() | ast.Invert(), operand):
            yield operand
        case ast.Constant(bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(int() as value):
            yield from (ast.Constant(value + 1), ast.Constant(value - 1))
        case ast.Constant(float() as value):
            step = STEP_FRACTION * value or 1.0
            moved = (f"{to:.8g}" for to in (value + step, value - step))
            yield from (ast.Constant(float(to)) for to in moved)
        case ast.Call(func=ast.Name(id=name)) if name in NAMED:
            yield ast.Call(ast.Name(NAMED[name]), node.args, node.keywords)
        case ast.Call(func=ast.Attribute(value, attr)) if attr in NAMED:
            function = ast.Attribute(value, NAMED[attr])
            yield ast.Call(function, node.args, node.keywords)
        case ast.Return() | ast.Continue() | ast.Break() if isinstance(parent, ast.If):
            yield ast.Pass()
    if isinstance(node, ast.expr) and _is_bound(place):
        yield ast.BinOp(node, ast.Add(), ast.Constant(1))
        yield ast.BinOp(node, ast.Sub(), ast.Constant(1))
    if isinstance(parent, ast.If | ast.IfExp) and place.field == "test":
        yield from (ast.Constant(True), ast.Constant(False))
    if isinstance(parent, ast.comprehension) and place.field == "ifs":
        yield from (ast.Constant(True), ast.Constant(False))
    if isinstance(parent, ast.While) and place.field == "test":
        yield ast.Constant(False)


def _is_bound(place: _Place) -> bool:
    """Tell bounds of slices and ranges; numbers there move by one anyhow."""
    parent, node = place.parent, place.get()
    if isinstance(node, ast.Constant | ast.UnaryOp):
        return False
    if isinstance(parent, ast.Slice):
        return True
    return (
        isinstance(parent, ast.Call)
        and place.field == "args"
        and isinstance(parent.func, ast.Name)
        and parent.func.id == "range"
    )
