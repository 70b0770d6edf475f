"""What comes out: the note, the exchange bundle, tables, the teaching session's captions and handout, and charts."""
