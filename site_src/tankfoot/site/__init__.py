"""The pages: a Flask app, frozen to static files, and the small server that shows them."""
