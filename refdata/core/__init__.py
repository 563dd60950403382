"""The ground floor: numbers, units, reading, results, errors, the store, the index of questions."""
