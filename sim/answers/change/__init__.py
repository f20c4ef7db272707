"""What could be worn otherwise, what each of it does to the trimming moment, and the least that brings balance."""
