"""What people type or put into files, read once, with the locale they write in; values of the stages come out."""
