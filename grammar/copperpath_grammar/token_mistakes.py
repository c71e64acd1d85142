def find_mistake(tokens, source):
    return None
