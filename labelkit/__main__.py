from labelkit.cli import main

main()
