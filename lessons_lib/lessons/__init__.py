"""The pages: one folder for each, named as its notebook, with its panel, its picture and its words."""
