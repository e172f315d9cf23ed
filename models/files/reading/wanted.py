"""What a column of a file takes, said in the words and units of the file."""

from models.files.reading.columns import ColumnReading
from models.quantities import CALLED, UNITS
from models.wording import called, one_of

WANTED_SPAN = "spans of clock time such as 12:00-12:30"
WANTED_DATE = "a date such as 2027-06-07"


def wanted(column: ColumnReading) -> str:
    """Say what a column takes, in its file's words and units."""
    match column.sort:
        case "quantity" | "whole":
            what = CALLED.get(
                column.kind, "a number" if column.kind else "a whole number"
            )
            return f"{what} {say_bounds(column)}".rstrip()
        case "word" | "words":
            return one_of(column.words)
        case "id":
            named = called(column.refers)
            return f"a {named} of the site" if named else "an id"
        case "texts":
            named = called(column.refers)
            return f"ids of {named}s" if named else "a list of text"
        case "flag":
            return "true or false"
        case "clock":
            return "a clock time such as 06:00"
        case "date":
            return WANTED_DATE
        case "instant":
            return "a date and time such as 2027-06-07 06:00"
        case "breaks":
            return WANTED_SPAN
        case "pairs":
            first, second = (wanted(part) for part in column.pair)
            return f"a list of pairs [[…, …], …] of {first}, and {second}"
        case "text":
            return "text"


def in_file_unit(value: float, column: ColumnReading) -> float:
    """Turn a bound of the record into the unit of a bare number in the file."""
    if not column.kind:
        return value
    unit = UNITS[column.kind][column.unit]
    return round((value - unit.offset) / unit.factor, 9)


def say_bounds(column: ColumnReading) -> str:
    """Say the bounds of a number: ``from 30 to 5000 mm``, ``above 0, up to 50 m2``."""
    bounds, unit = column.bounds, f" {column.unit}" if column.unit else ""
    low, high = (
        None if bound is None else f"{in_file_unit(bound, column):.10g}"
        for bound in (bounds.low, bounds.high)
    )
    if low is None and high is None:
        return ""
    if low is None:
        return f"{'below' if bounds.high_open else 'of at most'} {high}{unit}"
    if high is None:
        return f"{'above' if bounds.low_open else 'of at least'} {low}{unit}"
    if bounds.low_open and bounds.high_open:
        return f"between {low} and {high}{unit}"
    begins = f"above {low}, up to" if bounds.low_open else f"from {low} to"
    return f"{begins} {'below ' if bounds.high_open else ''}{high}{unit}"
