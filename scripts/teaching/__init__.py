"""Teaching the open listener how examiners talk: utterances of synthetic voices, and the training on them."""
