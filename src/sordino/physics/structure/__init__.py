"""What hangs, how it bends, what a person may lift, and whether it goes through: numbers in, numbers out."""
