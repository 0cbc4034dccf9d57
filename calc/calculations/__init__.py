"""The calculations, a folder for each subject and a file for each calculation."""
