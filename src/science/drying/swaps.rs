//! Two panels swapped in a round.
