"""What a plan will do: one file for each question, and `assessment.assess` that asks them all."""
