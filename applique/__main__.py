"""`python -m applique`."""

from applique.cli import main

if __name__ == "__main__":
    main(prog_name="applique")
