"""spoken-exam: a spoken neurological examination becomes a structured record that a person can check."""
