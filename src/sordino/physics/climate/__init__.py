"""Heat, fresh air and moisture: pure functions of numbers and arrays."""
