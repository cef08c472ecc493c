"""Stock lists: names matched to the base, prices and quantities read, and what is wrong named by row."""

from __future__ import annotations

import pytest

from askplant.base.opened import Base
from askplant.errors import FileError
from askplant.plan.stock import stock_of

LIST = """\
Name,Container,Price,Quantity
inkberry,#3,$24.50,12
Ilex opaca,#7,"1,089.50",4
holly,#5,30,5
zzqxw,,1,9

Thuja plicata,#15,,3
Ilex opaca,#2,40,0
"""


def test_a_list_is_read(real_base: Base) -> None:
    """By any name the base knows; a genus and a name nobody bears are kept aside, an empty line and none left are nothing."""
    stock = stock_of(LIST, "list.csv", real_base)
    told = [(real_base.plant(one.plant).botanical, one.container, one.price, one.quantity) for one in stock.offers]
    assert told == [
        ("Ilex glabra", "#3", 24.5, 12),
        ("Ilex opaca", "#7", 1089.5, 4),
        ("Thuja plicata", "#15", None, 3),
    ]
    assert [(one.row, one.name) for one in stock.unmatched] == [(4, "holly"), (5, "zzqxw")]


@pytest.mark.parametrize(
    "text, message",
    [
        ("", "list.csv: found nothing; expected a heading row: name,container,price,quantity"),
        ("plant,number\n", "list.csv:row 1: found no column name and quantity; expected the columns name, container"),
        ("name,quantity\ninkberry,some\n", "list.csv:row 2: found quantity `some`; expected a whole number"),
        ("name,price,quantity\ninkberry,cheap,1\n", "list.csv:row 2: found price `cheap`; expected an amount"),
        ("name,price,quantity\ninkberry,-5,1\n", "list.csv:row 2: found price `-5`; expected an amount"),
    ],
)
def test_what_is_no_list_is_named(text: str, message: str, real_base: Base) -> None:
    """By file and row, with what was expected."""
    with pytest.raises(FileError) as problem:
        stock_of(text, "list.csv", real_base)
    assert str(problem.value).startswith(message)
