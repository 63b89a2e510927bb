"""What is run now and then to write files of the project; nothing here is installed."""
