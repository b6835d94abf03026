from hypothesis import settings

# A slow machine isn't a wrong answer.
settings.register_profile("muntin", deadline=None, max_examples=60)
settings.load_profile("muntin")
