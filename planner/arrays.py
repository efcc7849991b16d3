"""Array types that many rooms speak of: what an element is, and how many axes there are.

The loops are compiled from these names (`planner.compiled`): ``Floats`` has one axis, ``FloatRows``
two; the build also knows ``FloatBlocks`` for three, and so on for each element. To a type checker
all arrays of one element are the same.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Bools = NDArray[np.bool_]
Bytes = NDArray[np.int8]
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Keys = NDArray[np.uint64]  # random marks that tell states apart
Octets = NDArray[np.uint8]  # small counts
Singles = NDArray[np.float32]

BoolRows = Bools
FloatRows = Floats
FloatBlocks = Floats
IntRows = Ints
KeyRows = Keys
OctetRows = Octets
