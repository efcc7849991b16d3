"""Array types that many rooms speak of."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Bools = NDArray[np.bool_]
Bytes = NDArray[np.int8]
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Keys = NDArray[np.uint64]  # random marks that tell states apart
