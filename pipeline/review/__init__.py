"""The local web page: listen again, confirm, correct, sign."""
